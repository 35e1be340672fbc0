/** The part of the desk's API that tells what was taken, and the accountant's table of it. */
import type { Hono } from 'hono';
import { accountantTable, type TakingsFound } from '../../core/review/takings/index.js';
import type { Day } from '../../host/day/types.js';
import { secretSoFar } from '../../host/gallery/index.js';
import { csvText } from '../../host/organiser/index.js';
import { type Elsewhere, takingsOfMeeting } from '../../host/review/index.js';
import { DeskError } from '../DeskError.js';
import { knownOf } from '../views/known.js';
import { takingsView } from './takingsView.js';

/** What other meetings of this machine took. */
export type OtherTakings = () => Promise<Elsewhere>;

interface TakingsParts {
  readonly folder: string | undefined;
  readonly others: OtherTakings | undefined;
}

export function addTakings(
  app: Hono,
  day: Day,
  { folder, others = async () => ({ meetings: [], left: [] }) }: TakingsParts,
): void {
  const found = async (): Promise<TakingsFound> =>
    folder === undefined
      ? { takings: [], left: [] }
      : takingsOfMeeting(day.state(), folder, await secretSoFar(folder)).catch((cause: Error) => {
          throw new DeskError(409, cause.message, { cause });
        });
  app.get('/api/takings', async (context) =>
    context.json(takingsView(knownOf(day.state()), await found(), await others())),
  );
  app.get('/api/takings/csv', async (context) => {
    const { about } = day.state();
    const { header, rows } = accountantTable([{ meeting: about.name, takings: (await found()).takings }]);
    context.header('Content-Type', 'text/csv; charset=utf-8');
    context.header('Content-Disposition', `attachment; filename="takings-${about.firstDay}.csv"`);
    return context.body(csvText(header, rows));
  });
}
