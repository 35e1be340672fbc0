import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: [
      'src/**/*.test.ts',
      'src/**/*.test.tsx',
      'demo/**/*.test.ts',
      'tools/**/*.test.ts',
      'bench/**/*.test.ts',
      'test/**/*.test.ts',
    ],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // What a screen comes to show, it may show late on a busy machine.
    expect: { poll: { timeout: 10_000 } },
    passWithNoTests: false,
    maxWorkers: 2,
  },
});
