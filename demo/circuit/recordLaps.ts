/** A phone's recording of laps on a known line, seeded: laps driven a little differently, errors of the receiver, the walk to the car. */
import type { localPlane, Point } from '../../src/core/numeric/localPlane.js';
import type { Random } from '../../src/core/numeric/random.js';
import { stepFrom } from '../../src/core/plan/circuit/angles.js';
import { headingAt, layTrack, pointAlong } from '../../src/core/plan/circuit/track.js';
import type { Place } from '../../src/core/plan/circuit/types.js';

export interface Receiver {
  /** Of each axis, metres. */
  readonly errorM: number;
  /** Share of the last error that stays a second later: 0 jumps about, 0.95 drifts. */
  readonly lasting: number;
}

export interface Drive {
  readonly laps: number;
  /** Metres a second. */
  readonly speed: number;
  /** From the start line to where the recording begins, and on after the last lap, as shares of a lap. */
  readonly from: number;
  readonly on: number;
  readonly walksToCar: boolean;
}

/** One place a second. */
export function recordLaps(centreline: readonly Place[], drive: Drive, receiver: Receiver, random: Random): Place[] {
  const track = layTrack({ centreline });
  const truth: Point[] = [];
  let along = drive.from * track.lengthM;
  const end = along + (drive.laps + drive.on) * track.lengthM;
  /** Nobody drives the middle exactly: a slow sway of a metre and a half. */
  const sway = random.between(0, 6);
  for (; along < end; along += drive.speed * random.between(0.75, 1.25)) {
    const aside = 1.5 * Math.sin(sway + along / 170);
    truth.push(stepFrom(pointAlong(track, along), headingAt(track, along) + 90, aside));
  }
  if (drive.walksToCar) {
    const away = headingAt(track, along) - 90;
    const last = truth.at(-1)!;
    for (let second = 1; second < 150; second++)
      truth.push(stepFrom(last, away + 25 * Math.sin(second / 20), 1.2 * second));
  }
  let [x, y] = [receiver.errorM * random.normal(), receiver.errorM * random.normal()];
  const fresh = receiver.errorM * Math.sqrt(1 - receiver.lasting ** 2);
  return truth.map((point) => {
    x = receiver.lasting * x + fresh * random.normal();
    y = receiver.lasting * y + fresh * random.normal();
    return toPlace(track.plane, { x: point.x + x, y: point.y + y });
  });
}

const toPlace = (plane: ReturnType<typeof localPlane>, point: Point): Place => plane.toPlace(point) as Place;

/** As a phone writes it: GPX 1.1. */
export function gpxOf(places: readonly Place[]): string {
  const points = places.map(
    ({ latitudeDeg, longitudeDeg }, i) =>
      `<trkpt lat="${latitudeDeg.toFixed(7)}" lon="${longitudeDeg.toFixed(7)}"><ele>3.1</ele><time>${new Date(
        Date.UTC(2031, 8, 19, 17) + 1000 * i,
      ).toISOString()}</time></trkpt>`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="a phone" xmlns="http://www.topografix.com/GPX/1/1">
<trk><name>Evening laps</name><trkseg>
${points.join('\n')}
</trkseg></trk>
</gpx>
`;
}
