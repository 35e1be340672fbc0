/** Boundaries of the design: the tree is the data flow, and a stage never imports a later one. */
const stages = [
  'plan',
  'log',
  'bringin',
  'measure',
  'judge',
  'arrange',
  'ask',
  'cover',
  'choose',
  'finish',
  'handover',
  'review',
  'office',
];

const noLaterStage = stages.slice(0, -1).map((stage, i) => ({
  name: `core-${stage}-imports-earlier-stages-only`,
  comment: 'Data flows one way; a stage that needs a later one is in the wrong place.',
  severity: 'error',
  from: { path: `^src/core/${stage}/`, pathNot: '\\.test\\.ts$' },
  to: { path: `^src/core/(${stages.slice(i + 1).join('|')})/` },
}));

module.exports = {
  forbidden: [
    ...noLaterStage,
    {
      name: 'numeric-knows-no-stage',
      severity: 'error',
      from: { path: '^src/core/numeric/', pathNot: '\\.test\\.ts$' },
      to: { path: `^src/core/(${stages.join('|')})/` },
    },
    {
      name: 'core-is-pure',
      comment: 'Core knows neither disk, server nor screen.',
      severity: 'error',
      from: { path: '^src/core/', pathNot: '\\.test\\.ts$' },
      to: { path: '^src/(host|server|cli|web|gallery|pocket|shop)/|^(demo|bench|tools|test)/' },
    },
    {
      name: 'core-uses-no-node-modules-of-the-platform',
      severity: 'error',
      from: { path: '^src/core/', pathNot: '\\.test\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'host-serves-server-and-cli',
      severity: 'error',
      from: { path: '^src/host/', pathNot: '\\.test\\.ts$' },
      to: { path: '^src/(server|cli|web)/|^(demo|bench)/' },
    },
    {
      name: 'web-speaks-to-the-server-by-its-types-only',
      severity: 'error',
      from: { path: '^src/(web|gallery|pocket)/', pathNot: '\\.test\\.tsx?$' },
      to: { path: '^src/(host|server|cli)/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'the-program-does-not-need-its-workshop',
      severity: 'error',
      from: { path: '^src/', pathNot: '\\.test\\.tsx?$|^src/cli/' },
      to: { path: '^(demo|bench|tools|test)/' },
    },
    {
      name: 'no-circles',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    { name: 'resolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.node.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'default', 'node'] },
    exclude: { path: '^dist/' },
  },
};
