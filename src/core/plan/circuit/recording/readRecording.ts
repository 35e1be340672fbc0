/**
 * Lines of a recording: tracks and routes of GPX 1.1 (namespace http://www.topografix.com/GPX/1/1), or LineStrings of any
 * GeoJSON. A phone in the pocket of somebody who drove a few laps is enough.
 */
import { XMLParser } from 'fast-xml-parser';
import { degreesOf } from '../../../units.js';
import { readFeatures } from '../file/features.js';
import { isRecord, type Say } from '../file/members.js';
import type { Place } from '../types.js';

export const isXml = (text: string): boolean => /^[\uFEFF\s]*</.test(text);

/** How much of the work is done, from 0 to 1: a day's recording takes seconds. */
export type Tell = (share: number) => void;

export function readRecording(text: string, say: Say, tell: Tell = () => undefined): (readonly Place[])[] {
  if (isXml(text)) return gpxLines(text.replace(/^\uFEFF/, '').trimStart(), say, tell);
  const features = readFeatures(text, undefined, say);
  if (features === null) return [];
  const lines = features.filter(({ geometry }) => geometry === 'LineString');
  if (lines.length === 0)
    say({
      kind: 'no-lap',
      sentence: `Expected a LineString in the GeoJSON file, but its ${features.length} features are points or none. Save the recorded line.`,
      at: [],
    });
  return lines.map(({ places }) => places);
}

/** Stands in the file where points stood in a row; GPX has no element of this name. */
const RUN = 'run-of-points';
/** A point from its first sign to its last: heights, times and what receivers add within it are of no use here. */
const POINT =
  /<((?:[\w.-]+:)?(?:trkpt|rtept))(?=[\s/>])([^<>]*?)(?:\/>|>(?:[^<]|<(?!\/?(?:[\w.-]+:)?(?:trkpt|rtept)\b))*<\/\1\s*>)/g;
/** Told once in so many points. */
const TOLD_EVERY = 5_000;

/** No entities are put in: a recording has no use for them, and some files grow by them without end. */
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '',
  removeNSPrefix: true,
  processEntities: false,
  parseTagValue: false,
  isArray: (name) => ['trk', 'trkseg', 'rte', RUN].includes(name),
});

function gpxLines(text: string, say: Say, tell: Tell): (readonly Place[])[] {
  const { skeleton, runs } = pointsApart(text, tell);
  const root = parsed(skeleton);
  const gpx = isRecord(root) ? root.gpx : undefined;
  if (!isRecord(gpx)) {
    const sentence =
      'Expected a GPX file, but found other XML, or XML that breaks off. Save the recording again as GPX 1.1.';
    say({ kind: 'no-lap', sentence, at: [] });
    return [];
  }
  const pointsIn = (part: Readonly<Record<string, unknown>>) =>
    recordsIn(part[RUN]).flatMap(({ n }) => runs[Number(n)] ?? []);
  const tracks = recordsIn(gpx.trk).map((track) => recordsIn(track.trkseg).flatMap(pointsIn));
  const lines = [...tracks, ...recordsIn(gpx.rte).map(pointsIn)];
  const bad = lines.flat().filter((place) => place === null).length;
  if (bad > 0)
    say({
      kind: 'left-out',
      sentence: `${bad} points of the GPX file were left out: expected lat from -90 to 90 and lon from -180 to 180 in degrees.`,
      at: [],
    });
  const good = lines.map((line) => line.filter((place) => place !== null)).filter((line) => line.length >= 3);
  if (good.length === 0)
    say({
      kind: 'no-lap',
      sentence:
        'Expected a track or a route of three points and more in the GPX file, but found none. Record a lap and save it with its track.',
      at: [],
    });
  return good;
}

/** Points are nearly all of a file: read by themselves, they cost no parser's time, and it can be told how far that is. */
function pointsApart(text: string, tell: Tell): { readonly skeleton: string; readonly runs: (Place | null)[][] } {
  const parts: string[] = [];
  const runs: (Place | null)[][] = [];
  let end = 0;
  let count = 0;
  for (const match of text.matchAll(POINT)) {
    const between = text.slice(end, match.index);
    if (runs.length === 0 || between.trim() !== '') {
      parts.push(between, `<${RUN} n="${runs.length}"/>`);
      runs.push([]);
    }
    runs.at(-1)!.push(placeOfPoint(match[2]!));
    end = match.index + match[0].length;
    if (++count % TOLD_EVERY === 0) tell(end / text.length);
  }
  return { skeleton: [...parts, text.slice(end)].join(''), runs };
}

function parsed(text: string): unknown {
  try {
    return parser.parse(text);
  } catch {
    return null;
  }
}

const recordsIn = (value: unknown): Readonly<Record<string, unknown>>[] =>
  Array.isArray(value) ? value.filter(isRecord) : [];

const LATITUDE = /(?:^|\s)lat\s*=\s*(?:"([^"]*)"|'([^']*)')/;
const LONGITUDE = /(?:^|\s)lon\s*=\s*(?:"([^"]*)"|'([^']*)')/;

function placeOfPoint(attributes: string): Place | null {
  const [latitude, longitude] = [LATITUDE, LONGITUDE].map((name) => {
    const match = name.exec(attributes);
    const text = (match?.[1] ?? match?.[2] ?? '').trim();
    return text === '' ? Number.NaN : Number(text);
  }) as [number, number];
  const isOnEarth = Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180;
  return isOnEarth ? { latitudeDeg: degreesOf(latitude), longitudeDeg: degreesOf(longitude) } : null;
}
