/** The moments at which a test kills the process that brings a card in: every step between two states of a disk. */

/** Calls to the system that bringing in makes; those after `open` are of an open file. */
export type Call = 'open' | 'rename' | 'rm' | 'appendFile' | 'write' | 'writeFile' | 'utimes' | 'sync' | 'read';

export interface KillStep {
  readonly name: string;
  readonly call: Call;
  /** Source of a pattern the path must match; for a renaming, the new one. */
  readonly path: string;
  /** What the bytes written must contain. */
  readonly text?: string;
  /** Only calls at this place in the file or beyond. */
  readonly from?: number;
  /** `torn`: half the bytes are written first. */
  readonly when: 'before' | 'torn' | 'after';
  /** The how manieth such call. */
  readonly nth: number;
}

const part = String.raw`DCIM.*\.tyrewall-part-[0-9a-f]+$`;
const picture = String.raw`/cards/.*TEST\d{4}\.JPG$`;
const journal = String.raw`journal\.jsonl$`;
const onFirst = '/a/cards/.*ascmhl/.*';
const onSecond = '/b/cards/.*ascmhl/.*';
const manifest = String.raw`\d{4}_[^/]*\.mhl$`;
const chain = String.raw`ascmhl_chain\.xml$`;

/** In an order in which each finds the state it needs, made by the ones before it. */
export const killSteps: readonly KillStep[] = [
  { name: 'the fill is journalled and nothing else', call: 'open', path: part, when: 'before', nth: 1 },
  { name: 'a copy is opened and empty', call: 'open', path: part, when: 'after', nth: 2 },
  { name: 'half a block is written', call: 'write', path: part, when: 'torn', nth: 3 },
  { name: 'tidying: a leftover is about to be removed', call: 'rm', path: part, when: 'before', nth: 1 },
  { name: 'a copy is written up to its second block', call: 'write', path: part, from: 1, when: 'before', nth: 1 },
  { name: 'all is written and has no time yet', call: 'utimes', path: part, when: 'before', nth: 3 },
  { name: 'all is written and not flushed', call: 'sync', path: part, when: 'before', nth: 4 },
  { name: 'it is flushed and not journalled', call: 'sync', path: part, when: 'after', nth: 4 },
  {
    name: 'its line in the journal is torn',
    call: 'appendFile',
    path: journal,
    text: '"written"',
    when: 'torn',
    nth: 3,
  },
  { name: 'it is journalled and has no name yet', call: 'rename', path: picture, when: 'before', nth: 3 },
  { name: 'it has its name and the folder is not flushed', call: 'rename', path: picture, when: 'after', nth: 3 },
  { name: 'tidying: it is about to be read back', call: 'open', path: picture, when: 'before', nth: 1 },
  { name: 'it is read back and nothing said of it', call: 'read', path: picture, when: 'after', nth: 4 },
  { name: 'that line is torn', call: 'appendFile', path: journal, text: '"read-back"', when: 'torn', nth: 5 },
  { name: 'that line is written', call: 'appendFile', path: journal, text: '"read-back"', when: 'after', nth: 6 },
  { name: 'the manifest is torn', call: 'writeFile', path: onFirst, text: '<hashlist', when: 'torn', nth: 1 },
  { name: 'the manifest has its name and no chain', call: 'rename', path: onFirst + manifest, when: 'after', nth: 1 },
  { name: 'the chain has no name yet', call: 'rename', path: onFirst + chain, when: 'before', nth: 1 },
  {
    name: 'the first disk is done, its journal still there',
    call: 'rm',
    path: onFirst + journal,
    when: 'before',
    nth: 1,
  },
  {
    name: 'the second has its manifest and no chain',
    call: 'rename',
    path: onSecond + manifest,
    when: 'after',
    nth: 1,
  },
];
