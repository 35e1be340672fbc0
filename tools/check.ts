/**
 * Everything that must hold before a change lands: format and lint, types per project, dependency rules, unused code,
 * the web build, and the tests. Each step says how much it looked at; a step that looked at nothing has failed.
 * Closes with the plain line `N passed, N failed`.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

interface Run {
  readonly code: number;
  readonly output: string;
}

interface Step {
  readonly name: string;
  readonly command: readonly string[];
  /** How many things the step looked at, read from its own output. */
  readonly lookedAt: (output: string) => number;
  /** Shown while it runs, for steps that print their own progress. */
  readonly isLoud?: boolean;
  /** Part of the output that people need when it fails. */
  readonly onFailure?: (output: string) => string;
}

const scratch = mkdtempSync(join(tmpdir(), 'tyrewall-check-'));
const testReport = join(scratch, 'tests.json');

const numberIn = (pattern: RegExp) => (output: string) => Number(pattern.exec(output)?.[1] ?? 0);
const linesWith = (pattern: RegExp) => (output: string) =>
  output.split('\n').filter((line) => pattern.test(line)).length;
const types = (project: string, where: RegExp): Step => ({
  name: `types: ${project}`,
  command: ['tsc', '-p', `tsconfig.${project}.json`, '--listFiles'],
  lookedAt: linesWith(where),
  onFailure: (output) =>
    output
      .split('\n')
      .filter((line) => /error TS/.test(line))
      .join('\n'),
});

const steps: readonly Step[] = [
  { name: 'format and lint', command: ['biome', 'check', '.'], lookedAt: numberIn(/Checked (\d+) files/) },
  types('core', /\/src\/core\//),
  types('node', /\/src\/host\//),
  types('web', /\/src\/web\//),
  {
    name: 'promises and switches',
    command: ['oxlint', '--type-aware', '--tsconfig', 'tsconfig.node.json', '--deny-warnings'],
    lookedAt: numberIn(/on (\d+) files/),
  },
  {
    name: 'dependency rules',
    command: [
      'depcruise',
      'src',
      'demo',
      'bench',
      'tools',
      '--config',
      '.dependency-cruiser.cjs',
      '--output-type',
      'json',
    ],
    // A compiler it cannot read leaves it with modules and no dependencies: that is a blind pass, so count those.
    lookedAt: numberIn(/"totalDependenciesCruised":\s*(\d+)/),
    onFailure: (output) => output.slice(output.indexOf('"summary"')).slice(0, 6000),
  },
  {
    name: 'unused code',
    command: ['knip', '--reporter', 'compact', '--debug'],
    lookedAt: linesWith(/src\/.*\.tsx?/),
    onFailure: (output) =>
      output.slice(Math.max(0, output.search(/^Unused |^Unlisted |^Unresolved |^Duplicate /m))).slice(0, 6000),
  },
  { name: 'web build', command: ['vite', 'build'], lookedAt: numberIn(/(\d+) modules transformed/) },
  {
    name: 'tests',
    command: ['vitest', 'run', '--reporter=default', '--reporter=json', `--outputFile.json=${testReport}`],
    lookedAt: () => testCounts().passed,
    isLoud: true,
  },
];

function run(command: readonly string[], isLoud: boolean): Promise<Run> {
  return new Promise((resolve) => {
    const [tool = '', ...rest] = command;
    const child = spawn(process.execPath, [binaryOf(tool), ...rest], { env: { ...process.env, FORCE_COLOR: '0' } });
    let output = '';
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (chunk: Buffer) => {
        output += chunk.toString();
        if (isLoud) process.stdout.write(chunk);
      });
    child.on('error', (error) => resolve({ code: 1, output: `${output}${error.message}` }));
    child.on('close', (code) => resolve({ code: code ?? 1, output }));
  });
}

/** The JavaScript file behind a package's command. */
function binaryOf(tool: string): string {
  const packages: Record<string, string> = {
    tsc: 'typescript',
    biome: '@biomejs/biome',
    depcruise: 'dependency-cruiser',
  };
  const name = packages[tool] ?? tool;
  const about = JSON.parse(readFileSync(join('node_modules', name, 'package.json'), 'utf8')) as {
    bin: string | Record<string, string>;
  };
  const file = typeof about.bin === 'string' ? about.bin : about.bin[tool];
  if (file === undefined) throw new Error(`Expected a command "${tool}" in the package ${name}; it has none.`);
  return join('node_modules', name, file);
}

function testCounts(): { passed: number; failed: number; skipped: number } {
  try {
    const report = JSON.parse(readFileSync(testReport, 'utf8')) as {
      numPassedTests: number;
      numFailedTests: number;
      numFailedTestSuites: number;
      numPendingTests: number;
    };
    const failed = report.numFailedTests === 0 ? report.numFailedTestSuites : report.numFailedTests;
    return { passed: report.numPassedTests, failed, skipped: report.numPendingTests };
  } catch {
    return { passed: 0, failed: 1, skipped: 0 };
  }
}

const only = process.argv.slice(2);
let passedSteps = 0;
let failedSteps = 0;
for (const step of steps.filter((s) => only.length === 0 || only.some((word) => s.name.includes(word)))) {
  const started = performance.now();
  const { code, output } = await run(step.command, step.isLoud ?? false);
  const seen = step.lookedAt(output);
  const isGood = code === 0 && seen > 0;
  if (isGood) passedSteps++;
  else failedSteps++;
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`${isGood ? 'ok    ' : 'FAILED'} ${step.name.padEnd(24)} looked at ${seen}, ${seconds} s`);
  if (!isGood) {
    if (code === 0) console.log('  It ended well but looked at nothing, so it proves nothing.');
    if (!step.isLoud) console.log((step.onFailure ?? ((text: string) => text.slice(-6000)))(output));
  }
}

const tests = only.length === 0 || only.includes('tests') ? testCounts() : { passed: 0, failed: 0, skipped: 0 };
rmSync(scratch, { recursive: true, force: true });
// The step "tests" stands for its tests, which are counted one by one.
const stepsBesideTests = tests.passed + tests.failed > 0 ? 1 : 0;
const passed = tests.passed + passedSteps - (tests.failed === 0 ? stepsBesideTests : 0);
const failed = tests.failed + failedSteps - (tests.failed > 0 ? stepsBesideTests : 0);
console.log(`${passed} passed, ${failed} failed${tests.skipped > 0 ? `, ${tests.skipped} skipped` : ''}`);
process.exitCode = failed === 0 ? 0 : 1;
