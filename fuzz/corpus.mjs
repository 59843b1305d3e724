// Runs the kept corpus in the browser's build: node corpus.mjs MODULE OUTCOMES
// OUTCOMES holds a line for each input as the native build wrote it: number of the target, file, digest of what came of it.
import { readFileSync } from "node:fs";

const [module, outcomes] = process.argv.slice(2);
const program = new WebAssembly.Module(readFileSync(module));

// What a page would give: none of it is used by what takes bytes, and a call of it is a failure.
const imports = {};
for (const { module, name, kind } of WebAssembly.Module.imports(program)) {
  if (kind !== "function") throw new Error(`the module wants ${kind} ${module}.${name}`);
  imports[module] ??= {};
  imports[module][name] = () => {
    throw new Error(`${module}.${name} was called`);
  };
}
const begin = () => new WebAssembly.Instance(program, imports).exports;

let [page, count, different] = [begin(), 0, 0];
for (const line of readFileSync(outcomes, "utf8").trim().split("\n")) {
  const [target, file, native] = line.split("\t");
  let found;
  try {
    for (const byte of readFileSync(file)) page.push(byte);
    found = BigInt.asUintN(64, page.feed(Number(target))).toString(16).padStart(16, "0");
  } catch (error) {
    found = String(error);
    page = begin();
  }
  count += 1;
  if (found !== native) {
    different += 1;
    console.log(`${file}: ${found} in the browser's build, ${native} natively`);
  }
}
console.log(`figure: fuzz_wasm_inputs = ${count}`);
console.log(`figure: fuzz_wasm_different = ${different}`);
process.exitCode = count > 0 && different === 0 ? 0 : 1;
