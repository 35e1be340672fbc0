/** The choosing sheet's part of the desk's API: who is left, one rider's set, and the rest as proposed. */
import type { Hono } from 'hono';
import type { Day } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import { choosingView, minutesView } from './choosingView.js';
import { riderToChooseView } from './riderToChoose.js';
import { theRest } from './theRest.js';

const MOST_MINUTES = 600;

export function addChoosing(app: Hono, day: Day): void {
  app.get('/api/choosing', (context) => context.json(choosingView(day.state())));
  app.get('/api/choosing/riders/:key', (context) =>
    context.json(riderToChooseView(day.state(), context.req.param('key'))),
  );
  app.get('/api/choosing/minutes', (context) => {
    const minutes = Number(context.req.query('are') ?? Number.NaN);
    if (!(minutes >= 1 && minutes <= MOST_MINUTES))
      throw new DeskError(
        400,
        `Expected minutes from 1 to ${MOST_MINUTES} but got ${context.req.query('are') ?? 'none'}. Say how long you have.`,
      );
    return context.json(minutesView(day.state(), minutes));
  });
  app.get('/api/choosing/rest', (context) => context.json(theRest(day.state())));
}
