/** Sharp alone, in as many children as the finisher has and through the same pool, so that only the work differs. */
import { ChildPool } from '../../src/host/children/index.js';

export interface BareJob {
  readonly from: string;
  readonly to: string;
  readonly longEdgePx: number | null;
  readonly quality: number;
  readonly chromaSubsampling: '4:2:0' | '4:4:4';
}

export const startBareLoop = (workers: number): ChildPool<BareJob, string> =>
  new ChildPool<BareJob, string>({
    childModule: new URL('./bareChild.ts', import.meta.url),
    settings: {},
    workers,
    timeLimitMs: 60_000,
    afterTwoDeaths: (_, why) => {
      throw new Error(`the bare loop's child ${why}`);
    },
    errorFor: (_, trouble) => new Error(`the bare loop could not run: ${JSON.stringify(trouble)}`),
  });
