// Loads MusicXML files with OpenSheetMusicDisplay in a headless browser and says where it puts the chord symbols:
//   node read_with_osmd.mjs FILE…
// On standard output one JSON object per line: {"file", "measures", "staves", "symbols": [[staff, measure, at]]};
// `at` is the time from the start of the measure in quarters, [numerator, denominator]. "error" where it does not load.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const { chromium } = require("playwright-core");
const library = readFileSync(require.resolve("opensheetmusicdisplay/build/opensheetmusicdisplay.min.js"), "utf8");
const executablePath =
  process.env.CHROMIUM || execFileSync("sh", ["-c", "command -v chromium"], { encoding: "utf8" }).trim();

/** In the browser: every chord container of every staff entry. */
async function read(text) {
  const display = new window.opensheetmusicdisplay.OpenSheetMusicDisplay("sheet", { autoResize: false });
  await display.load(text);
  const measures = display.Sheet.SourceMeasures;
  const symbols = [];
  measures.forEach((measure, number) => {
    for (const container of measure.VerticalSourceStaffEntryContainers) {
      container.StaffEntries.forEach((entry, staff) => {
        for (const chord of entry?.ChordContainers ?? []) {
          // A chord between two notes hangs on an entry of its own or carries its place in the entry.
          const at = container.Timestamp;
          symbols.push([staff, number, [at.WholeValue * at.Denominator + at.Numerator, at.Denominator]]);
          void chord;
        }
      });
    }
  });
  return { measures: measures.length, staves: display.Sheet.Staves.length, symbols };
}

const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
const page = await browser.newPage();
await page.setContent('<!doctype html><div id="sheet" style="width: 1000px"></div>');
await page.addScriptTag({ content: library });
for (const file of process.argv.slice(2)) {
  let said;
  try {
    said = await page.evaluate(read, readFileSync(file, "utf8"));
  } catch (error) {
    said = { error: String(error) };
  }
  process.stdout.write(JSON.stringify({ file, ...said }) + "\n");
}
await browser.close();
