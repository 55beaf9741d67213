/* Runs scripts in one world, as a page does, and prints what `outcome()` says afterwards, as JSON. */
"use strict";
const { readFileSync } = require("fs");
const { runInThisContext } = require("vm");

for (const file of process.argv.slice(2)) runInThisContext(readFileSync(file, "utf8"), file);
process.stdout.write(JSON.stringify(globalThis.outcome()));
