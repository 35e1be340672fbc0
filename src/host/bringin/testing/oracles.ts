/** Programs of the system that tests compare with. Absent, a test is skipped and says so; REQUIRE_ORACLES=1 forbids that. */
import { execFileSync, spawnSync } from 'node:child_process';
import { it } from 'vitest';

const isThere = (program: string): boolean =>
  spawnSync(program, ['--version'], { stdio: 'ignore' }).error === undefined;

export function itWith(program: string, name: string, test: () => Promise<void>): void {
  if (isThere(program)) {
    it(name, test);
  } else if (process.env.REQUIRE_ORACLES === '1') {
    it(name, () => Promise.reject(new Error(`Expected ${program} to be installed.`)));
  } else {
    console.warn(`1 test skipped: ${program} is not installed (${name})`);
    it.skip(name, test);
  }
}

/** Throws with xmllint's own words where the file does not follow the schema. */
export function validate(schema: string, file: string): void {
  execFileSync('xmllint', ['--nonet', '--noout', '--schema', schema, file], { stdio: 'pipe' });
}
