// Where the logic of the pages lies.
export const JS = new URL("../../src/rushlight/web/static/js/", import.meta.url).href;
