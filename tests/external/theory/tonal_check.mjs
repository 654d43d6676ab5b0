// Compares the spelled tones of the whole chord table with npm `tonal`, wherever it knows the spelling.
//
//     node tonal_check.mjs RELEAD-THEORY-DUMP
//
// Each difference must be explained in tonal-differences.txt; one that is not, or an explanation that no
// longer applies, fails. Ends with 77 (skipped) when tonal is not installed.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

let Chord, Interval;
try {
  ({ Chord, Interval } = await import("tonal"));
} catch (error) {
  if (error.code !== "ERR_MODULE_NOT_FOUND") throw error;
  console.log("SKIP: the npm package tonal is not installed (npm ci in tests/external)");
  process.exit(77);
}

const here = dirname(fileURLToPath(import.meta.url));
const leastCompared = 70; // qualities that tonal must know, so that this check cannot become empty

function readDifferences() {
  const rows = new Map();
  for (const [index, line] of readFileSync(join(here, "tonal-differences.txt"), "utf8").split("\n").entries()) {
    if (line.trim() === "" || line.startsWith("--")) continue;
    const [symbol, ours, theirs, reason] = line.split("|").map((cell) => cell.trim());
    if (!reason) throw new Error(`tonal-differences.txt:${index + 1}: a row is: symbol | ours | tonal's | reason`);
    rows.set(symbol, { ours, theirs, line: index + 1, used: false });
  }
  return rows;
}

// tonal's notes for a symbol, or null when it does not know the spelling.
function tonalNotes(root, spelling) {
  const chord = Chord.get(root + spelling);
  if (chord.empty || chord.tonic !== root || chord.bass) return null;
  return chord.notes;
}

const sorted = (notes) => [...notes].sort().join(" ");
const intervals = (root, notes) => sorted(notes.map((note) => Interval.simplify(Interval.distance(root, note))));
const failures = [];
const differences = readDifferences();
const comparedQualities = new Set();
let compared = 0;
let unknown = new Set();

for (const line of execFileSync(process.argv[2], { encoding: "utf8", maxBuffer: 1 << 28 }).trimEnd().split("\n")) {
  const [root, quality, spellings, tones] = line.split("\t");
  let known = false;
  for (const spelling of new Set(spellings.split(" "))) {
    const theirs = tonalNotes(root, spelling);
    if (theirs === null) continue;
    known = true;
    compared += 1;
    if (sorted(theirs) === sorted(tones.split(" "))) continue;
    // Explained once, on C: on every other root tonal's chord must be the same intervals away.
    const row = differences.get("C" + spelling);
    if (row === undefined) {
      failures.push(`${root}${spelling}: ours ${tones}, tonal's ${theirs.join(" ")}: not explained`);
      continue;
    }
    if (root !== "C") {
      if (intervals(root, theirs) !== intervals("C", row.theirs.split(" ")))
        failures.push(`${root}${spelling}: tonal's ${theirs.join(" ")} is another chord than on C`);
      continue;
    }
    row.used = true;
    if (sorted(row.ours.split(" ")) !== sorted(tones.split(" ")) || sorted(row.theirs.split(" ")) !== sorted(theirs))
      failures.push(`tonal-differences.txt:${row.line}: C${spelling} is now ours ${tones}, tonal's ${theirs.join(" ")}`);
  }
  if (known) comparedQualities.add(quality);
  else unknown.add(quality);
}

for (const [symbol, row] of differences)
  if (!row.used) failures.push(`tonal-differences.txt:${row.line}: ${symbol} no longer differs`);
if (comparedQualities.size < leastCompared)
  failures.push(`only ${comparedQualities.size} qualities could be compared, at least ${leastCompared} should be`);

for (const failure of failures) console.log(failure);
console.log(`${compared} spellings on 21 roots compared, ${comparedQualities.size} qualities; ` +
  `tonal knows no spelling of: ${[...unknown].join(", ")}`);
process.exit(failures.length === 0 ? 0 : 1);
