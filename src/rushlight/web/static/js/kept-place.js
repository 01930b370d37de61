// Who goes by keyboard keeps the place where an answer makes the page anew: what had the focus and is gone gives it to what stands there now.

const STOPS = "a[href], button, input, select, textarea, summary, [tabindex]";

const stops = root => [...root.querySelectorAll(STOPS)];
const named = at => at.getAttribute("aria-label") || (at.labels && at.labels[0] && at.labels[0].textContent) || at.textContent || at.title || "";

// What has the focus: the same kind of thing under the same name, and the how-manieth of them.
const alike = (root, tag, name) => stops(root).filter(other => other.tagName === tag && named(other) === name);

// So many stops of the Tab key on from there.
function further(root, at, step) {
  const all = stops(root).filter(other => other === at || (!other.disabled && other.tabIndex >= 0 && other.checkVisibility()));
  return all[all.indexOf(at) + step] || at;
}

export function keepPlace(root) {
  let place = null, step = 0;
  const lost = () => document.activeElement === document.body || document.activeElement === null;
  root.addEventListener("focusin", ({ target: at }) => {
    const name = named(at);
    place = { at, name, number: alike(root, at.tagName, name).indexOf(at), step: 0 };
    step = 0;
  });
  for (const name of ["keydown", "pointerdown"]) {
    window.addEventListener(name, event => {
      if (lost()) place = null; // whoever goes on from nowhere has chosen another place
      step = event.key === "Tab" ? event.shiftKey ? -1 : 1 : 0;
    }, true);
  }
  window.addEventListener("keyup", () => { step = 0; }, true);
  new MutationObserver(() => {
    if (!place || place.at.isConnected || !lost()) return;
    // The Tab key that leaves a field tells its change first; where that takes the field away, the key finds nothing to go on from.
    place.step ||= step;
    const next = alike(root, place.at.tagName, place.name)[place.number];
    if (next) further(root, next, place.step).focus({ preventScroll: true });
  }).observe(root, { childList: true, subtree: true });
}
