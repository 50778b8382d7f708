#!/usr/bin/env node
// The library from Node, by way of the tool: a scenario to standard input, JSON from standard output.
//
//     node blend.mjs TOOL FILE
import { spawnSync } from 'node:child_process';
import { dirname } from 'node:path';
import { readFileSync } from 'node:fs';

/** The report of a command about a scenario; what is rejected is a report too. */
export function reportOf(tool, command, scenario, folder) {
  const asked = spawnSync(tool, [command, '--format', 'json', '-'], {
    cwd: folder, input: scenario, encoding: 'utf8', maxBuffer: 1 << 28,
  });
  if (asked.error) throw asked.error;
  return JSON.parse(asked.stdout);
}

function main([tool, file]) {
  if (file === undefined) {
    console.error('node blend.mjs TOOL FILE');
    return 64;
  }
  const report = reportOf(tool, 'blend', readFileSync(file, 'utf8'), dirname(file));
  if (report.status === 'rejected') {
    for (const found of report.diagnostics) console.error(`${file}:${found.line}: ${found.message}`);
    return 1;
  }
  console.log(report.title);
  if (report.status !== 'optimal') {
    console.log('  no blend obeys every rule; these conflict:');
    for (const { rule } of report.conflict) console.log(`  ${rule}`);
    return 2;
  }
  for (const { material, kg_per_ha } of report.portions) {
    console.log(`  ${material} ${kg_per_ha.toFixed(1)} kg/ha`);
  }
  console.log(`  ${report.cost_per_ha.toFixed(2)} ${report.currency}/ha`);
  return 0;
}

process.exitCode = main(process.argv.slice(2));
