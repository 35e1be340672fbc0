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

export function readRecording(text: string, say: Say): (readonly Place[])[] {
  if (isXml(text)) return gpxLines(text.replace(/^\uFEFF/, '').trimStart(), say);
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

/** No entities are put in: a recording has no use for them, and some files grow by them without end. */
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '',
  removeNSPrefix: true,
  processEntities: false,
  parseTagValue: false,
  isArray: (name) => ['trk', 'trkseg', 'trkpt', 'rte', 'rtept'].includes(name),
});

function gpxLines(text: string, say: Say): (readonly Place[])[] {
  const root = parsed(withoutInsides(text));
  const gpx = isRecord(root) ? root.gpx : undefined;
  if (!isRecord(gpx)) {
    const sentence =
      'Expected a GPX file, but found other XML, or XML that breaks off. Save the recording again as GPX 1.1.';
    say({ kind: 'no-lap', sentence, at: [] });
    return [];
  }
  const tracks = recordsIn(gpx.trk).map((track) => recordsIn(track.trkseg).flatMap((part) => recordsIn(part.trkpt)));
  const routes = recordsIn(gpx.rte).map((route) => recordsIn(route.rtept));
  const lines = [...tracks, ...routes].map((points) => points.map(placeOfPoint));
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

/** Heights, times and what receivers add within a point are most of a file, and of no use here. */
const withoutInsides = (text: string): string =>
  text.replace(
    /<((?:[\w.-]+:)?(?:trkpt|rtept))\b([^<>]*[^<>/])>(?:[^<]|<(?!\/?(?:[\w.-]+:)?(?:trkpt|rtept)\b))*<\/\1\s*>/g,
    '<$1$2/>',
  );

function parsed(text: string): unknown {
  try {
    return parser.parse(text);
  } catch {
    return null;
  }
}

const recordsIn = (value: unknown): Readonly<Record<string, unknown>>[] =>
  Array.isArray(value) ? value.filter(isRecord) : [];

function placeOfPoint({ lat, lon }: Readonly<Record<string, unknown>>): Place | null {
  const [latitude, longitude] = [lat, lon].map((text) =>
    typeof text === 'string' && text.trim() !== '' ? Number(text) : Number.NaN,
  ) as [number, number];
  const isOnEarth = Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180;
  return isOnEarth ? { latitudeDeg: degreesOf(latitude), longitudeDeg: degreesOf(longitude) } : null;
}
