/** What a meeting took, from the orders that were fetched into its folder. */
import type { Session } from '../../core/arrange/types.js';
import { ridersByFrame } from '../../core/finish/index.js';
import { type PicturePlace, type TakingsFound, type TakingsInput, takingsOf } from '../../core/review/takings/index.js';
import type { DayState } from '../day/types.js';
import { publicIdsOf } from '../gallery/secret.js';
import { readFetchedOrders } from '../orders/fetchedOrders.js';
import { debriefOfDay } from './debriefOfDay.js';

type State = Pick<DayState, 'about' | 'log' | 'arrangement' | 'pixels' | 'metadata' | 'keepers' | 'timetable'>;

/** `secret`: null where nothing was published yet; then no picture is known by its public id. */
export async function takingsOfMeeting(
  state: State,
  meetingFolder: string,
  secret: string | null,
): Promise<TakingsFound> {
  const { facts, papers } = await readFetchedOrders(meetingFolder);
  const { spots } = debriefOfDay(state).debrief;
  return takingsOf({
    facts,
    papers,
    ...(secret === null ? { places: new Map(), riders: new Map() } : knownBy(state, secret)),
    minutes: new Map(spots.map(({ spot, minutes }) => [spot, minutes] as const)),
    commission: state.about.organiser?.commission ?? null,
  });
}

/** What the service knows by public ids, as the photographer knows it. */
function knownBy({ about, arrangement }: State, secret: string): Pick<TakingsInput, 'meeting' | 'places' | 'riders'> {
  const publicIdOf = publicIdsOf(secret);
  const riders = ridersByFrame(arrangement);
  // Of several days sessions have the same names again.
  const sessionName = (of: Session | undefined) =>
    of === undefined
      ? null
      : about.firstDay === about.lastDay
        ? of.name
        : `${new Date(of.start).toISOString().slice(0, 10)} ${of.name}`;
  const places = arrangement.exposures.map(({ frameId, spot, session }): [string, PicturePlace] => [
    publicIdOf('frame', frameId),
    {
      spot,
      session: session === null ? null : sessionName(arrangement.sessions[session]),
      rider: riders.get(frameId)?.[0]?.code ?? null,
    },
  ]);
  const codes = arrangement.riders.flatMap(({ id, aliases, code }) =>
    [...(id === null ? [] : [id]), ...aliases].map((one) => [publicIdOf('rider', one), code] as const),
  );
  return { meeting: publicIdOf('meeting', about.id), places: new Map(places), riders: new Map(codes) };
}
