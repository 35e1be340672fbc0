import { describe, expect, test } from 'vitest';
import { degreesOf, metresOf } from '../../../units.js';
import { checkCircuit } from '../checkCircuit.js';
import { distanceBetween } from '../segments.js';
import { at, circuitOf, rectangle, spotAt, wayAlong } from '../testing/shapes.js';
import { layTrack, pointAlong, pointOf } from '../track.js';
import type { Circuit, CircuitSpot, Place } from '../types.js';
import type { Edited } from './edited.js';
import {
  addBend,
  insertLinePoint,
  moveLinePoint,
  removeBend,
  removeLinePoint,
  renameBend,
  startLineAt,
  turnLineRound,
} from './line.js';
import { addSpot, moveSpot, removeSpot, renumberSpot, saySpot, turnSpot } from './spots.js';
import { addWay, changeWay, removeWay } from './ways.js';
import { movePaddock, renameCircuit, sayCircuit, sayOverItself } from './words.js';

const whole = circuitOf(rectangle(800, 400), {
  paddock: at(0, 260),
  bends: [
    { name: 'Hawser', alongM: metresOf(800) },
    { name: 'Kedge', alongM: metresOf(2000) },
  ],
  spots: [spotAt('a', 100, 230, 180), spotAt('b', 0, 170, 0, 2), spotAt('c', -100, 230, 180, 3)],
  ways: [
    wayAlong('path', [
      [-120, 235],
      [120, 235],
    ]),
  ],
});
const idOf = (name: string): CircuitSpot['id'] => name as CircuitSpot['id'];
const kinds = ({ problems }: Edited): string[] => problems.map(({ kind }) => kind);
/** Where a bend lies on the ground. */
const placeOfBend = (circuit: Circuit, i: number): Place => {
  const track = layTrack(circuit);
  return track.plane.toPlace(pointAlong(track, circuit.bends[i]!.alongM)) as Place;
};
const metresApart = (a: Place, b: Place): number => {
  const { plane } = layTrack(whole);
  return distanceBetween(pointOf(plane, a), pointOf(plane, b));
};

describe('changes on the map', () => {
  test('PL110: a change leaves the circuit it was made from as it was', () => {
    const before = JSON.stringify(whole);
    moveSpot(whole, idOf('a'), at(0, 0));
    startLineAt(whole, at(400, 0));
    turnLineRound(whole);
    removeLinePoint(whole, 3);
    expect(JSON.stringify(whole)).toBe(before);
  });

  test('PL110: a spot is moved, turned and spoken of; what is wrong with it comes with it', () => {
    const moved = moveSpot(whole, idOf('b'), at(0, 202));
    expect(moved.circuit.spots[1]!.place).toEqual(at(0, 202));
    expect(kinds(moved)).toEqual(['spot-on-track']);
    expect(turnSpot(whole, idOf('b'), degreesOf(-20)).circuit.spots[1]!.viewAzimuthDeg).toBe(340);
    const said = saySpot(whole, idOf('b'), { name: 'Bee', viewAzimuthDeg: degreesOf(10), needsPermit: true });
    expect(said.circuit.spots[1]).toEqual({
      id: 'b',
      number: 2,
      place: at(0, 170),
      name: 'Bee',
      viewAzimuthDeg: 10,
      needsPermit: true,
    });
  });

  test('PL110: numbers follow when a spot goes or comes; a name that is taken still gives an id of its own', () => {
    const gone = removeSpot(whole, idOf('b')).circuit;
    expect(gone.spots.map(({ id, number }) => [id, number])).toEqual([
      ['a', 1],
      ['c', 2],
    ]);
    const come = addSpot(
      addSpot(gone, 'Blåbär & Co', at(60, 230), degreesOf(180)).circuit,
      'A',
      at(90, 230),
      degreesOf(180),
    );
    expect(come.circuit.spots.map(({ id, number }) => [id, number])).toEqual([
      ['a', 1],
      ['c', 2],
      ['blabar-co', 3],
      ['a-2', 4],
    ]);
  });

  test('PL110: points of the line are moved, put in and taken out, and bends stay where they lie', () => {
    const first = placeOfBend(whole, 1);
    const moved = moveLinePoint(whole, 20, at(-200, 240)).circuit;
    expect(moved.centreline[20]).toEqual(at(-200, 240));
    expect(moved.bends[1]!.alongM).toBeGreaterThan(whole.bends[1]!.alongM + 30);
    expect(metresApart(placeOfBend(moved, 1), first)).toBeLessThan(0.01);
    const more = insertLinePoint(whole, 20, at(-195, 220)).circuit;
    expect(more.centreline).toHaveLength(whole.centreline.length + 1);
    expect(more.centreline[21]).toEqual(at(-195, 220));
    expect(removeLinePoint(more, 21).circuit.centreline).toEqual(whole.centreline);
  });

  test('PL110: a point dragged over the other side shows where the line crosses itself', () => {
    const { problems } = moveLinePoint(whole, 40, at(5, -260));
    const crossing = problems.find(({ kind }) => kind === 'crosses-itself')!;
    expect(crossing.at).toHaveLength(2);
    expect(crossing.at.every((place) => Math.abs(metresApart(place, at(0, -200))) < 20)).toBe(true);
  });

  test('PL110: the start line is set anywhere; length, bends and the line on the ground stay', () => {
    const from = at(403, -55);
    const { circuit } = startLineAt(whole, from);
    expect(metresApart(circuit.centreline[0]!, at(400, -55))).toBeLessThan(0.05);
    expect(layTrack(circuit).lengthM).toBeCloseTo(layTrack(whole).lengthM, 2);
    expect(circuit.bends.map(({ name }) => name)).toEqual(['Kedge', 'Hawser']);
    expect(metresApart(placeOfBend(circuit, 0), placeOfBend(whole, 1))).toBeLessThan(0.05);
    const again = startLineAt(circuit, whole.centreline[0]!).circuit;
    expect(again.bends[0]!.alongM).toBeCloseTo(800, 1);
    const onPoint = startLineAt(whole, whole.centreline[7]!).circuit;
    expect(onPoint.centreline).toHaveLength(whole.centreline.length);
  });

  test('PL110: turned round, the line runs against what was said, until that is said anew; turned twice it is as before', () => {
    const turned = turnLineRound(whole);
    expect(kinds(turned)).toContain('against-direction');
    expect(kinds(sayCircuit(turned.circuit, { direction: 'anticlockwise' }))).not.toContain('against-direction');
    expect(metresApart(placeOfBend(turned.circuit, 0), placeOfBend(whole, 1))).toBeLessThan(0.05);
    expect(turned.circuit.centreline[0]).toEqual(whole.centreline[0]);
    const twice = turnLineRound(turned.circuit).circuit;
    expect(twice.centreline).toEqual(whole.centreline);
  });

  test('PL110: ways come and go, the paddock and the name are set', () => {
    const { circuit } = addWay(whole, {
      ...wayAlong('', [
        [120, 235],
        [120, 300],
      ]),
      kind: 'service-road',
    });
    expect(circuit.ways.map(({ id }) => id)).toEqual(['path', 'service-road']);
    expect(removeWay(circuit, 'service-road').circuit).toEqual(whole);
    expect(movePaddock(whole, at(10, 300)).circuit.paddock).toEqual(at(10, 300));
    const onTrack = movePaddock(whole, whole.centreline[3]!).problems;
    expect(onTrack.map(({ kind, at: places }) => [kind, places])).toContainEqual([
      'paddock-on-track',
      [whole.centreline[3]!],
    ]);
    expect(renameCircuit(whole, ' Long Strand ').circuit.name).toBe('Long Strand');
  });

  test('PL110: a bridge that is said and a tunnel that is said mend what was wrong', () => {
    const crossed = moveLinePoint(whole, 40, at(5, -260));
    const { at: crossings } = crossed.problems.find(({ kind }) => kind === 'crosses-itself')!;
    const said = crossings.reduce((so, place) => sayOverItself(so.circuit, place), crossed);
    expect(kinds(said)).not.toContain('crosses-itself');
    const over = addWay(
      whole,
      wayAlong('', [
        [0, 260],
        [0, 100],
      ]),
    );
    expect(kinds(over)).toEqual(['way-on-track']);
    const under = changeWay(
      over.circuit,
      'path-2',
      wayAlong(
        '',
        [
          [0, 260],
          [0, 100],
        ],
        { crossing: 'tunnel' },
      ),
    );
    expect(kinds(under)).toEqual([]);
  });

  test('PL110: bends are put in where the line is nearest, renamed and taken out', () => {
    const more = addBend(whole, 'Sheave', at(390, -210)).circuit;
    expect(more.bends.map(({ name }) => name)).toEqual(['Hawser', 'Sheave', 'Kedge']);
    expect(more.bends[1]!.alongM).toBeCloseTo(1210, 0);
    expect(renameBend(more, 1, 'Cleat').circuit.bends[1]!.name).toBe('Cleat');
    expect(removeBend(more, 1).circuit).toEqual(whole);
  });

  test('PL110: a spot takes another number and the others keep their order', () => {
    const numbered = renumberSpot(whole, idOf('c'), 1).circuit;
    expect(numbered.spots.map(({ id, number }) => [id, number])).toEqual([
      ['c', 1],
      ['a', 2],
      ['b', 3],
    ]);
  });

  test.each([
    ['change', () => changeWay(whole, 'z', whole.ways[0]!), /no way z/],
    ['short', () => changeWay(whole, 'path', { ...whole.ways[0]!, line: [] }), /two points and more/],
    ['bend', () => removeBend(whole, 2), /from 0 to 1, but found 2/],
    ['bend name', () => renameBend(whole, -1, 'x'), /but found -1/],
    ['number', () => renumberSpot(whole, idOf('z'), 1), /no spot z/],
    ['move', () => moveSpot(whole, idOf('z'), at(0, 0)), /no spot z on Test ring/],
    ['remove', () => removeSpot(whole, idOf('z')), /no spot z/],
    ['point', () => moveLinePoint(whole, 999, at(0, 0)), /from 0 to 239, but found 999/],
    ['insert', () => insertLinePoint(whole, -1, at(0, 0)), /but found -1/],
    ['way', () => addWay(whole, { ...wayAlong('', [[0, 300]]) }), /two points and more/],
    ['no way', () => removeWay(whole, 'z'), /no way z/],
    ['name', () => renameCircuit(whole, '  '), /still called Test ring/],
  ])('PL110: what cannot be done leaves the circuit as it was and says why: %s', (_, change, sentence) => {
    const { circuit, problems } = change();
    expect(circuit).toBe(whole);
    expect(problems[0]!.kind).toBe('not-done');
    expect(problems[0]!.sentence).toMatch(sentence);
  });

  test('PL110: a line of three points keeps them', () => {
    const three = circuitOf([
      { x: 0, y: 0 },
      { x: 300, y: 300 },
      { x: 600, y: 0 },
    ]);
    expect(removeLinePoint(three, 1).problems[0]!.kind).toBe('not-done');
  });

  test('PL105: a bend further along than the line is long is said', () => {
    const bends = [{ name: 'Nowhere', alongM: metresOf(5000) }];
    expect(checkCircuit({ ...whole, bends })).toMatchObject([{ kind: 'bend-off-line' }]);
  });
});
