// What went wrong beside the edits themselves: clashes, a document that cannot be read. Pure.

// A further clash joins the one that is open, so that neither edit is lost.
export function clashed(held, mine, items) {
  if (!held) return { ...mine, items };
  return {
    what: held.what === mine.what ? held.what : `${held.what}; ${mine.what}`,
    changes: [...held.changes, ...mine.changes],
    items: [...new Set([...held.items, ...items])],
  };
}

export function outsideWords(problems) {
  if (problems.some(problem => problem.found === "no such file")) {
    return ["plan.yaml is not in its folder any more.", "What it held is still shown; put the folder back where it was, and work goes on. Edits wait until then."];
  }
  return ["plan.yaml was edited elsewhere and cannot be read now.", "The last good plan is shown; edits here wait until it is mended."];
}
