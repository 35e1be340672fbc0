/** `tyrewall begin --name … --day … --to <disk>`: a meeting before there is a card, so that its day can be planned. */
import { CliError } from './cliError.js';
import { saidDays } from './dayOfCards.js';
import { meetingOnDisks } from './meetingFolders.js';

export interface BeginWish {
  readonly to?: readonly string[];
  readonly name?: string;
  /** `YYYY-MM-DD`, or the first and the last. */
  readonly day?: string;
  readonly zone?: string;
}

export async function beginCommand({ to = [], name, day, zone }: BeginWish): Promise<void> {
  const [first, ...more] = to;
  const missing = [
    name === undefined ? '--name, what the meeting is called' : null,
    day === undefined ? '--day, for instance 2031-05-17 or 2031-05-17..18' : null,
    first === undefined ? '--to, the disk or folder it shall lie in' : null,
  ].filter((one) => one !== null);
  if (name === undefined || day === undefined || first === undefined)
    throw new CliError(`Expected what a new meeting needs but these were not said: ${missing.join('; ')}.`);
  const { firstDay, lastDay } = saidDays(day);
  const wish = { firstDay, lastDay, name, isDaySaid: true, ...(zone === undefined ? {} : { zone }) };
  const [folder = ''] = await meetingOnDisks([first, ...more], wish, { refuse: console.error, say: console.log });
  console.log(`Meeting folder: ${folder}`);
  console.log(
    'Next, each with this folder: tyrewall circuit, timetable, entries; then plan. Or look at it: tyrewall open.',
  );
}
