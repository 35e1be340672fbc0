/** HiGHS, the solver: one model in, its answer out. It runs in this thread and stops nothing else but itself. */
import highsPackage, { type Highs, type HighsCallbackMap, type Model } from 'highs';

export type { Highs };

export interface RunOptions {
  /** Share of the best there can be at which the search may end. */
  readonly gap: number;
  readonly timeLimitS: number;
  /** Asked now and then while it searches. */
  readonly shouldStop?: () => boolean;
  readonly onProgress?: (progress: Progress) => void;
  /** Whole variables of a solution that is known, to begin from. */
  readonly start?: ReadonlyMap<string, number>;
}

export interface Progress {
  /** Of the best plan so far; null: none yet. */
  readonly worth: number | null;
  readonly seconds: number;
}

export type RunOutcome =
  | { readonly kind: 'impossible' }
  /** The time was over, or it was stopped, before there was a plan. */
  | { readonly kind: 'nothing' }
  | {
      readonly kind: 'solution';
      readonly valueFor: (name: string) => number;
      readonly objective: number;
      readonly bound: number | null;
    };

/** The package's types describe its CommonJS build, where the function hangs below; imported it is the function itself. */
const loadHighs = highsPackage as unknown as typeof highsPackage.default;

export const startHighs = (): Promise<Highs> => loadHighs();

/** The same model gives the same answer each time: one thread, one seed. Only a time limit that is met can differ. */
export function runModel(highs: Highs, text: string, options: RunOptions): RunOutcome {
  return highs.withModel({ format: 'lp', data: text }, (model): RunOutcome => {
    model.options.set({
      // Progress is told only where something is written; nobody reads it.
      output_flag: options.onProgress !== undefined,
      log_to_console: false,
      random_seed: 0,
      mip_rel_gap: options.gap,
      mip_abs_gap: 1e-9,
      time_limit: options.timeLimitS,
      // The first relaxation by an interior point: a third of the time of the simplex on these networks.
      mip_lp_solver: 'ipm',
    });
    if (options.start) setStart(model, options.start);
    model.run(listeners(highs, options));
    const { infeasible, unboundedOrInfeasible } = highs.constants.modelStatus;
    const status = model.getModelStatus();
    // A model of which it cannot tell is infeasible: nothing of what is modelled here grows without end.
    if (status === infeasible || status === unboundedOrInfeasible) return { kind: 'impossible' };
    if (Number(model.info.get('primal_solution_status')) !== FEASIBLE) return { kind: 'nothing' };
    const bound = finiteOrNull(Number(model.info.get('mip_dual_bound')));
    const { colValue } = model.getSolution();
    const values = new Map(Array.from(colValue, (value, i) => [model.getColName(i), value]));
    return { kind: 'solution', valueFor: (name) => values.get(name) ?? 0, objective: model.getObjectiveValue(), bound };
  });
}

/** kSolutionStatusFeasible of the HiGHS C interface. */
const FEASIBLE = 2;

function setStart(model: Model, start: ReadonlyMap<string, number>): void {
  const names = [...start.keys()];
  const indices = names.map((name) => model.getColByName(name));
  model.raw.setSparseSolution({ indices, values: [...start.values()] });
}

function listeners(highs: Highs, { shouldStop, onProgress }: RunOptions): HighsCallbackMap {
  const { mipInterrupt, mipLogging } = highs.constants.callbackType;
  const stops: HighsCallbackMap = {
    [mipInterrupt]: (event): undefined => {
      if (shouldStop?.()) event.interrupt();
    },
  };
  const tells: HighsCallbackMap = {
    [mipLogging]: ({ data }): undefined => {
      // No bound: it may be that of a smaller search within this one, and would prove what is not so.
      const { mip_primal_bound: worth, running_time: seconds = 0 } = data;
      onProgress?.({ worth: finiteOrNull(worth), seconds });
    },
  };
  return { ...(shouldStop && stops), ...(onProgress && tells) };
}

const finiteOrNull = (value: number | undefined): number | null =>
  value !== undefined && Number.isFinite(value) ? value : null;
