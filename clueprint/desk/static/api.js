// Asks the program; addresses are relative, so that the token in the page's own address goes along.

export class Problem extends Error {
  constructor(status, message) {
    super(message);
    this.status = status;
  }
}

async function answered(response) {
  if (response.ok) return response.json();
  let why = response.statusText;
  try {
    const { detail } = await response.json();
    if (typeof detail === "string") why = detail;
  } catch {
    // No words came along; the status line has to do.
  }
  throw new Problem(response.status, why);
}

const named = (name) => name.split("/").map(encodeURIComponent).join("/");

async function asked(address, options) {
  try {
    return await fetch(address, options);
  } catch {
    throw new Problem(0, "The desk does not answer: has the program ended?");
  }
}

async function post(what, name, body) {
  const options = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
  return answered(await asked(`api/${what}/${named(name)}`, options));
}

export const puzzles = async (query) => answered(await asked(`api/puzzles?${new URLSearchParams(query)}`));
export const kinds = async () => answered(await asked("api/kinds"));
export const ofPage = async (name) => answered(await asked(`api/page/${named(name)}`));
export const sheet = async (name) => answered(await asked(`api/sheet/${named(name)}`));
export const proof = async (name, version) => answered(await asked(`api/proof/${named(name)}?version=${version}`));
export const scanAddress = (name) => `api/scan/${named(name)}`;
export const edit = (name, version, wish) => post("edit", name, { version, wish });
export const undo = (name, version) => post("undo", name, { version });
export const save = (name, version) => post("save", name, { version });
export const reload = (name) => post("reload", name, {});
