import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { PersonId } from '../../core/ids.js';
import { numberCardText, readNumberCard } from '../../core/measure/cards/index.js';
import { openPeople } from '../meeting/people.js';
import { knownCards, numberCardToken } from './knownCards.js';

const SECRET = '5c'.repeat(32);

it('PL723: a card’s token follows from the meeting’s secret and its number, and is told from all others', () => {
  const tokens = Array.from({ length: 400 }, (_, number) => numberCardToken(SECRET, number + 1));
  expect(new Set(tokens).size).toBe(400);
  expect(numberCardToken(SECRET, 17)).toBe(tokens[16]);
  expect(numberCardToken('5d'.repeat(32), 17)).not.toBe(tokens[16]);
  expect(readNumberCard(numberCardText({ number: 17, token: tokens[16]! }))).toMatchObject({ token: tokens[16] });
});

it('PL723: who was handed a card stands in people, and is forgotten when erased', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-people-'));
  let time = 1000;
  const people = await openPeople(folder, { now: () => time++ });
  const cards = knownCards(people, SECRET);
  await people.write({ id: 'p-a' as PersonId, contact: 'a@rider.example', card: 17 });
  expect(cards.personOf(17)).toBe('p-a');
  await people.write({ id: 'p-b' as PersonId, contact: 'b@rider.example', card: 17 });
  expect([cards.personOf(17), cards.personOf(18)]).toEqual(['p-b', undefined]);
  expect((await openPeople(folder)).get('p-b' as PersonId)?.card).toBe(17);
  await people.erase('p-b' as PersonId);
  expect(cards.personOf(17)).toBe('p-a');
  await rm(folder, { recursive: true, force: true });
});
