// Loads one MusicXML file with Verovio and writes what it understood:
//   node read_with_verovio.mjs FILE OUT_STEM
// OUT_STEM.mei, OUT_STEM-1.svg, OUT_STEM-2.svg …, OUT_STEM.mid.b64, and on standard output one JSON object
// {"loaded", "pages", "log"}. One file per process: the WebAssembly may end in a crash on bad input.
import { readFileSync, writeFileSync } from "node:fs";
import createVerovioModule from "verovio/wasm";
import { VerovioToolkit } from "verovio/esm";

const [file, stem] = process.argv.slice(2);
const module = await createVerovioModule();
const toolkit = new VerovioToolkit(module);
toolkit.setOptions({
  breaks: "encoded",
  pageWidth: 2100,
  pageHeight: 2970,
  pageMarginLeft: 100,
  pageMarginRight: 100,
  pageMarginTop: 100,
  pageMarginBottom: 100,
  unit: 8.75, // a staff of 7 mm
  scale: 100,
  header: "encoded",
  footer: "encoded",
  minLastJustification: 0, // short last lines are stretched as in print
  svgBoundingBoxes: true,
  font: "Leipzig",
  xmlIdSeed: 1,
});
let loaded = false;
if (file.endsWith(".mxl")) {
  const bytes = readFileSync(file);
  loaded = toolkit.loadZipDataBuffer(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
} else {
  loaded = toolkit.loadData(readFileSync(file, "utf8"));
}
const log = toolkit.getLog();
const pages = loaded ? toolkit.getPageCount() : 0;
if (loaded && stem) {
  writeFileSync(`${stem}.mei`, toolkit.getMEI({ pageNo: 0 }));
  writeFileSync(`${stem}.mid.b64`, toolkit.renderToMIDI());
  for (let page = 1; page <= pages; page++) writeFileSync(`${stem}-${page}.svg`, toolkit.renderToSVG(page));
}
process.stdout.write(JSON.stringify({ loaded, pages, log }) + "\n");
