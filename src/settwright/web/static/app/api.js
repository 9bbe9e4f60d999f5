// Speaks with the server: one way in, one way out, and one kind of error that holds the server's own words.

/** What the server refused, or that it can't be reached. */
export class Refused extends Error {
  /** @param {number} status @param {{error?: string, kind?: string, findings?: import("./types.js").Finding[],
   *   commission?: import("./types.js").Commission}} body */
  constructor(status, body) {
    super(body.error ?? "The page's server doesn't answer. Start Settwright again; nothing that was kept is lost.");
    this.status = status;
    this.kind = body.kind ?? "away";
    this.findings = body.findings ?? [];
    this.commission = body.commission;
  }
}

/** @param {string} path @param {RequestInit} [how] @returns {Promise<any>} */
async function asked(path, how) {
  /** @type {Response} */
  let answer;
  try {
    answer = await fetch(path, how);
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new Refused(0, {});
  }
  const body = answer.headers.get("content-type")?.includes("json") ? await answer.json() : await answer.text();
  if (!answer.ok) throw new Refused(answer.status, typeof body === "string" ? {} : body);
  return body;
}

/** Returns what stands at an address. @param {string} path @param {AbortSignal} [signal] */
export function get(path, signal) {
  return asked(path, signal ? { signal } : undefined);
}

/** Sends a wish and returns the answer. @param {string} path @param {unknown} body @param {AbortSignal} [signal] */
export function post(path, body, signal) {
  return asked(path, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
    ...(signal ? { signal } : {}),
  });
}
