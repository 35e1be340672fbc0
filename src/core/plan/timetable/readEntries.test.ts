import { describe, expect, it } from 'vitest';
import { entryNumbersOf, readEntries, rowsOfText } from './index.js';

const read = (text: string, options = { event: 'Autumn round' }) => readEntries(rowsOfText(text), options);

describe('an entry list', () => {
  it.each([
    ['English', 'Class,No.,Rider,Email,Wants\nSuperstock,27,Ada Example,ada@example.org,head-on'],
    ['German', 'Klasse;Startnummer;Name;Kontakt;Wunsch\nSuperstock;27;Ada Example;ada@example.org;head-on'],
    ['French', 'Catégorie\tNuméro\tPilote\tCourriel\tSouhaits\nSuperstock\t27\tAda Example\tada@example.org\thead-on'],
    [
      'Italian',
      'Cognome;Nome proprio;Numero di gara;Categoria;Mail;Richieste\nExample;Ada;27;Superstock;ada@example.org;head-on',
    ],
    ['Spanish', 'Dorsal;Clase;Nombre;Correo;Deseos\n27;Superstock;Ada Example;ada@example.org;head-on'],
  ])('PL240: columns are known by their names: %s', (_, text) => {
    expect(read(text).entries).toEqual([
      {
        at: 2,
        event: 'Autumn round',
        class: 'Superstock',
        number: '27',
        name: 'Ada Example',
        contact: 'ada@example.org',
        wants: 'head-on',
      },
    ]);
  });

  it('PL241: event + class + number are the key: the same number in another class or event is another entry', () => {
    const { entries, troubles } = read('Event,Class,Number\nA,Twins,7\nA,Singles,7\nB,Twins,7');
    expect(entries).toHaveLength(3);
    expect(troubles).toEqual([]);
    expect(entryNumbersOf(entries)).toEqual(['7']);
  });

  it('PL242: a repeat is taken once; two names under one key are taken without a name until the list is mended', () => {
    const { entries, troubles, rows } = read(
      'Class,Number,Name\nTwins,7,Ada Example\nTwins,7,ada example\nTwins,8,Ada Example\nTwins,8,Bo Sample',
    );
    expect(rows).toHaveLength(4);
    expect(entries.map(({ number, name }) => [number, name])).toEqual([
      ['7', 'Ada Example'],
      ['8', undefined],
    ]);
    expect(troubles).toEqual([
      'Lines 2 and 3 are the same: number 7 in Twins is taken once.',
      'Lines 4 and 5 are two riders under number 8 in Twins. It is taken without a name until the list is mended.',
    ]);
  });

  it('PL243: a rider in two classes is said to be one, without the name', () => {
    const { sameRider } = read('Class,Number,Name\nTwins,7,Ada Example\nSingles,70,Ada Example');
    expect(sameRider).toEqual(['Lines 2 and 3 are one rider: number 7 in Twins and number 70 in Singles.']);
  });

  it('PL244: numbers stay as written, without signs about them; 07 beside 7 is kept as two and said', () => {
    const { entries, troubles } = read('Class,Number\nTwins,#07\nTwins,No. 7\nTwins,12a');
    expect(entries.map(({ number }) => number)).toEqual(['07', '7', '12A']);
    expect(troubles).toEqual(['07 and 7 are both entered in Twins: kept as two.']);
  });

  it('PL245: what is no number is named with its line, and the rest is read', () => {
    const { entries, left } = read('Class,Number,Name\nTwins,,Ada Example\nTwins,12345,Bo Sample\nTwins,9,Cy Model');
    expect(entries.map(({ number }) => number)).toEqual(['9']);
    expect(left.map(({ sentence }) => sentence)).toEqual([
      'Names the columns: class, number, name.',
      'Line 2, “Twins Ada Example”: expected a number, but it has none.',
      'Line 3, “Twins 12345 Bo Sample”: expected a number of one to four figures, but got “12345”.',
    ]);
  });

  it('PL246: without names of columns one number a line is read, under the class above it; a name is never guessed', () => {
    const { entries, left } = read('Twins\n7\n8\nSingles\n7');
    expect(entries.map((entry) => `${entry.class} ${entry.number}`)).toEqual(['Twins 7', 'Twins 8', 'Singles 7']);
    expect(left).toHaveLength(2);
    expect(read('7\tTwins').entries[0]).toMatchObject({ class: 'Twins', number: '7' });
    const unclear = read('7\tTwins\tAda Example');
    expect(unclear.entries).toEqual([]);
    expect(unclear.left[0]?.sentence).toContain('may be a class or a name');
  });

  it.each(['no', 'No', 'nein', 'Keine', 'non', 'Aucune', 'nessuna', 'Ninguno', 'no, gracias', '-', '–', '0', 'FALSE'])(
    'PL247: “%s” under what was booked is no booking',
    (word) => {
      expect(read(`Number,Name,Pre-booked\n7,Ada Example,"${word}"`).entries[0]).not.toHaveProperty('wants');
      expect(read(`Number,Name,Wants\n7,Ada Example,"${word}"`).entries[0]).not.toHaveProperty('wants');
      expect(read(`Number,Name,Booked,Wants\n7,Ada Example,"${word}",head-on`).entries[0]).not.toHaveProperty('wants');
    },
  );

  it.each(['yes', 'ja', 'oui', 'sì', 'sí', 'x', '1', 'no head-on'])('PL247: “%s” is one', (word) => {
    expect(read(`Number;Name;Pre-booked\n7;Ada Example;${word}`).entries[0]).toHaveProperty('wants', word);
    expect(read(`Number;Booked;Wants\n7;${word};both sides`).entries[0]).toHaveProperty('wants', 'both sides');
  });

  it('PL248: what was booked under a number that several riders have, or in a repeat, is not lost', () => {
    const { entries, troubles } = read(
      'Number,Name,Wants\n7,Bo Sample,\n8,Cy Model,no\n7,Ada Example,"yes, both sides"\n7,Di Mock,head-on\n8,Cy Model,paddock',
    );
    expect(entries.map(({ number, name, wants }) => [number, name, wants])).toEqual([
      ['7', undefined, 'yes, both sides; head-on'],
      ['8', 'Cy Model', 'paddock'],
    ]);
    expect(troubles).toEqual([
      'Lines 2, 4 and 5 are 3 riders under number 7. It is taken without a name until the list is mended; what lines 4 and 5 booked stays with the number.',
      'Lines 3 and 6 are the same: number 8 is taken once.',
    ]);
  });

  it('PL249: columns that are not read are named, so that no booking is lost without a word', () => {
    const { entries, left } = read('Class,No.,Rider,Bike,Photos booked,Tyres\nTwins,7,Ada Example,blue,yes,wet');
    expect(left[0]?.sentence).toBe('Names the columns: class, number, name, booked. Not read: “Bike”, “Tyres”.');
    expect(entries[0]).toMatchObject({ number: '7', wants: 'yes' });
    expect(read('Class,Number,Consent to photos\nTwins,7,yes').entries[0]).not.toHaveProperty('wants');
  });
});
