// Keys that a group of controls answers to.

const STEP = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

export const stepped = (count, at, key) => key === "Home" ? 0 : key === "End" ? count - 1 : STEP[key] ? (at + STEP[key] + count) % count : at;

// Of several buttons with the role of a radio one is a stop of the Tab key; arrows go to the others and choose them.
export function stepRadio(event) {
  const all = [...event.currentTarget.querySelectorAll('[role="radio"]')], at = all.indexOf(document.activeElement);
  const next = at < 0 ? at : stepped(all.length, at, event.key);
  if (next === at) return;
  event.preventDefault();
  event.stopPropagation();
  all[next].focus();
  all[next].click();
}
