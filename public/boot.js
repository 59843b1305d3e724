// Starts the app: the program compiles while it arrives and while the script that binds it is read.

// Whoever is here for the first time has something to read until then: the cautions, which the app shows first of all.
try {
  const known = localStorage.getItem("trammel.settings") !== null;
  if (!known && navigator.language.startsWith("en")) document.getElementById("shell-cautions").hidden = false;
} catch {
  // Where the browser stores nothing the app says so itself.
}

const program = new URL("{{wasm}}", import.meta.url);

const fetched = async () => {
  const response = await fetch(program, { credentials: "same-origin" });
  if (!response.ok) throw new Error(`the program did not arrive (${response.status})`);
  return response;
};

const compiled = async () => {
  const response = await fetched();
  const type = response.headers.get("Content-Type") ?? "";
  if (WebAssembly.compileStreaming && type.startsWith("application/wasm")) {
    return WebAssembly.compileStreaming(response);
  }
  return WebAssembly.compile(await response.arrayBuffer());
};

// What is fetched when it is first asked for: only a script can fetch a script.
globalThis.trammelImport = (address) => import(address);

// The part of the program that the page of this address is in, below the app's base; none for the first screen.
const partOf = (place) => {
  if (place === "") return undefined;
  const work = /^airframe\/(?!new$)[^/]+(\/(instruments|(job|specification|place|helper|run)\/.*))?$/;
  return work.test(place) ? "work" : "paper";
};

try {
  const [glue, module] = await Promise.all([
    import(new URL("{{glue}}", import.meta.url).href).then((glue) => {
      const here = partOf(location.href.split(/[?#]/)[0].slice(document.baseURI.length));
      if (here) glue.ahead(here);
      return glue;
    }),
    compiled(),
    ahead(),
  ]);
  await glue.default({ module_or_path: module });
} catch (error) {
  globalThis.trammelRescue(`Trammel could not start: ${error?.message ?? error}`);
}
