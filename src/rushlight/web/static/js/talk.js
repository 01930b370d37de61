// Talking to the server. Every error has one form.

export class Refused extends Error {
  constructor(status, error) {
    super(error.says);
    this.status = status;
    this.kind = error.kind;
    this.items = error.items || [];
    this.problems = error.problems || [];
  }
}

async function answered(response) {
  const body = await response.json().catch(() => ({}));
  if (!response.ok) throw new Refused(response.status, body.error || { kind: "broken", says: "The server gave no answer that can be read." });
  return { status: response.status, body };
}

export async function ask(path) {
  return answered(await reached(path));
}

// What follows from the answer: null while that is being worked out or was overtaken; whoever waits asks again then.
export async function askAfter(path) {
  const { status, body } = await ask(path);
  return status === 202 ? null : body;
}

export async function tell(path, body = {}) {
  return answered(await reached(path, {
    method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body),
  }));
}

// A file as it is.
export async function hand(path, file) {
  return answered(await reached(path, { method: "POST", headers: { "content-type": "application/octet-stream" }, body: file }));
}

async function reached(path, options) {
  try {
    return await fetch(path, options);
  } catch {
    throw new Refused(0, { kind: "away", says: "The app's server does not answer. Start it again; nothing that was saved is lost." });
  }
}
