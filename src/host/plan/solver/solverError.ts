export class SolverError extends Error {
  override readonly name = 'SolverError';
}
