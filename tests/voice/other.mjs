// The grammar recogniser of the npm registry, on the same sound. Argument: the package's folder. On standard input one JSON object
// a line, {"file": raw 16 kHz floats, "grammar": JSGF}; on standard output a JSON string a line, what was heard.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const folder = process.argv[2];
const { default: create } = await import(pathToFileURL(`${folder}/soundswallower.node.js`).href);
const module = await create();
const decoder = new module.Decoder({ loglevel: "FATAL", samprate: 16000 });
await decoder.initialize();
let grammar = "";
for (const line of readFileSync(0, "utf8").split("\n").filter(Boolean)) {
  const asked = JSON.parse(line);
  if (asked.grammar !== grammar) decoder.set_grammar((grammar = asked.grammar));
  let said = "";
  try {
    decoder.start();
    const bytes = readFileSync(asked.file);
    decoder.process_audio(new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4), false, true);
    decoder.stop();
    said = decoder.get_text();
  } catch {
    // No path through the grammar: nothing was heard.
  }
  process.stdout.write(`${JSON.stringify(said)}\n`);
}
