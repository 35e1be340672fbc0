import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FileId, GestureId, RiderId, WriterId } from '../ids.js';
import { epochMsOf } from '../units.js';
import { causalityOf, crc32Of, fold, lastWord, lineText, mergeLines, parseLine, readLog, takenDown } from './index.js';
import type { Decision, LogLine, UnknownDecision } from './types.js';

let nextGesture = 0;
function line(place: string, decision: Decision | UnknownDecision, more: Partial<LogLine> = {}): LogLine {
  const [writer, seq, lamport] = place.split(' ');
  nextGesture += 1;
  return {
    writer: writer as WriterId,
    seq: Number(seq),
    v: 1,
    lamport: Number(lamport ?? seq),
    gesture: `gesture-${nextGesture}` as GestureId,
    at: epochMsOf(1_780_000_000_000),
    decision,
    ...more,
  };
}

const file = (name: string): FileId => name as FileId;
const keep = (name: string): Decision => ({ kind: 'keep', file: file(name) });
const leaveOut = (name: string): Decision => ({ kind: 'leave-out', file: file(name) });
const seen = (writers: Record<string, number>): Decision => ({ kind: 'seen', writers });
const withdraw = (of: LogLine): Decision => ({ kind: 'withdraw', gesture: of.gesture });
const kindsInForce = (...lines: LogLine[]): string[] => fold(lines).inForce.map(({ decision }) => decision.kind);

describe('the checksum of a line', () => {
  it('LB1: gives the published check value of CRC-32/ISO-HDLC', () => {
    expect(crc32Of('123456789')).toBe('cbf43926');
    expect(crc32Of('')).toBe('00000000');
  });

  it('LB1: a written line reads back as it was, whatever letters are in it', () => {
    const said = line('anna 1', { kind: 'session-is', at: 1 as never, group: 'Grüße “😀”\n\u0000\ud800' });
    const text = lineText(said);
    expect(text).toMatch(/^[\x20-\x7e]+$/);
    expect(parseLine(text)).toEqual({ kind: 'line', line: said });
  });

  it('LB1: any single changed character of a line is noticed', () => {
    const text = lineText(line('anna 1', keep('a')));
    fc.assert(
      fc.property(fc.nat(text.length - 1), fc.constantFrom('0', 'x', '"', ' '), (at, put) => {
        fc.pre(text[at] !== put);
        expect(parseLine(text.slice(0, at) + put + text.slice(at + 1)).kind).toBe('damaged');
      }),
    );
  });
});

describe('reading a log file', () => {
  const texts = ['a', 'b', 'c'].map((name, i) => lineText(line(`anna ${i + 1}`, keep(name))));

  it('LB2: a torn last line is dropped with a notice, at whatever byte it was cut', () => {
    const whole = `${texts.join('\n')}\n`;
    const beforeLast = whole.length - (texts[2] as string).length - 1;
    for (let cut = beforeLast + 1; cut < whole.length - 1; cut++) {
      const read = readLog(whole.slice(0, cut), 'log/anna.jsonl');
      expect(read.lines).toHaveLength(2);
      expect(read.isTorn).toBe(true);
      expect(read.notices).toEqual([expect.stringContaining('The last line of log/anna.jsonl was cut off')]);
    }
  });

  it('LB2: a last line that is whole but for its newline counts', () => {
    expect(readLog(texts.join('\n'), 'x')).toMatchObject({ isTorn: false, notices: [] });
    expect(readLog(texts.join('\n'), 'x').lines).toHaveLength(3);
  });

  it('LB3: a damaged line in the middle has its own sentence and the rest goes on', () => {
    const read = readLog(`${texts[0]}\n${texts[1]?.replace('keep', 'keeq')}\n${texts[2]}\n`, 'log/anna.jsonl');
    expect(read.lines.map(({ seq }) => seq)).toEqual([1, 3]);
    expect(read.notices).toEqual([expect.stringMatching(/line 2 of log\/anna\.jsonl, but its checksum says/)]);
  });

  it('LB4: unknown kinds and newer formats are kept, carried along, and have no effect', () => {
    const future = line('anna 1', { kind: 'hover-over', height: 3 });
    const newer = line('anna 2', keep('a'), { v: 2 });
    const read = readLog(`${lineText(future)}\n${lineText(newer)}\n`, 'x');
    expect(read.lines).toEqual([future, newer]);
    expect(read.notices.join(' ')).toMatch(/“hover-over”.*newer Tyrewall \(line format 2, this one knows 1\)/);
    expect(fold(read.lines)).toMatchObject({ lines: [future, newer], inForce: [], gestures: [] });
  });

  it('LB4: a known kind that cannot be read says where, and is kept without effect', () => {
    const read = readLog(`${lineText(line('anna 1', { kind: 'boundary', at: 'noon', is: 'here' }))}\n`, 'x');
    expect(read.lines[0]?.decision).toEqual({
      kind: 'malformed',
      original: { kind: 'boundary', at: 'noon', is: 'here' },
    });
    expect(read.notices).toEqual([expect.stringContaining('decision.at')]);
    expect(fold(read.lines).inForce).toEqual([]);
  });
});

describe('folding', () => {
  it('LB5: orders by Lamport time, then writer, then seq, never by the clock on the wall', () => {
    const late = line('bea 1 2', keep('late'), { at: epochMsOf(0) });
    const early = line('zoe 7 1', keep('early'));
    const tie = line('anna 4 2', keep('tie'));
    expect(fold([late, early], [tie]).lines).toEqual([early, tie, late]);
    expect(fold([late, early, tie]).nextLamport).toBe(3);
  });

  it('LB6: a withdraw takes back its whole gesture, and a withdraw of the withdraw gives it again', () => {
    const gesture = 'two-lines' as GestureId;
    const said = [
      line('anna 1', keep('a'), { gesture, part: [1, 2] }),
      line('anna 2', keep('b'), { gesture, part: [2, 2] }),
    ];
    const undo = line('anna 3', withdraw(said[0] as LogLine));
    const redo = line('anna 4', withdraw(undo));
    const undoAgain = line('anna 5', withdraw(redo));
    expect(kindsInForce(...said, undo)).toEqual([]);
    expect(kindsInForce(...said, undo, redo)).toEqual(['keep', 'keep']);
    expect(kindsInForce(...said, undo, redo, undoAgain)).toEqual([]);
    expect(fold([...said, undo, redo]).gestures).toEqual([gesture]);
  });

  it('LB6: a withdraw of itself or of something later has no effect', () => {
    const gesture = 'ouroboros' as GestureId;
    const itself = line('anna 1', { kind: 'withdraw', gesture }, { gesture, part: [1, 2] });
    const beside = line('anna 2', keep('a'), { gesture, part: [2, 2] });
    expect(kindsInForce(itself, beside)).toEqual(['keep']);
  });

  it('LB7: the same gesture sent to two laptops is one gesture', () => {
    const gesture = 'sent-twice' as GestureId;
    const first = line('anna 1 1', keep('a'), { gesture });
    const second = line('bea 1 1', keep('a'), { gesture });
    const folded = fold([second], [first]);
    expect(folded.inForce.map((one) => one.line)).toEqual([first]);
    expect(folded.gestures).toEqual([gesture]);
  });

  it('LB7: a gesture cut off half-way has no effect, and its repetition counts whole', () => {
    const gesture = 'cut' as GestureId;
    const half = line('anna 5', keep('a'), { gesture, part: [1, 2] });
    const again = [
      line('bea 1 9', keep('a'), { gesture, part: [1, 2] }),
      line('bea 2 10', keep('b'), { gesture, part: [2, 2] }),
    ];
    expect(kindsInForce(half)).toEqual([]);
    expect(fold([half, ...again]).inForce.map((one) => one.line)).toEqual(again);
  });

  it('LB7: a gesture that lost a line to damage, not to a cut, keeps what is left', () => {
    const gesture = 'damaged' as GestureId;
    const left = line('anna 1', keep('a'), { gesture, part: [1, 2] });
    expect(kindsInForce(left, line('anna 3', keep('c')))).toEqual(['keep', 'keep']);
  });
});

describe('contradictions', () => {
  it('LB8: the later direct statement stands', () => {
    expect(kindsInForce(line('anna 1', keep('a')), line('anna 2', leaveOut('a')))).toEqual(['leave-out']);
    const told = [line('anna 1', keep('a')), line('bea 1 2', seen({ anna: 1 })), line('bea 2 3', leaveOut('a'))];
    expect(kindsInForce(...told)).toEqual(['leave-out']);
  });

  it('LB8: what was seen through a third laptop was seen', () => {
    const told = [
      line('anna 1 1', keep('a')),
      line('bea 1 2', seen({ anna: 1 })),
      line('cleo 1 3', seen({ bea: 1 })),
      line('cleo 2 4', leaveOut('a')),
    ];
    expect(kindsInForce(...told)).toEqual(['leave-out']);
  });

  it('LB9: said at once on two laptops, keep beats leave-out, whichever sorts last', () => {
    expect(kindsInForce(line('anna 1 1', keep('a')), line('bea 1 9', leaveOut('a')))).toEqual(['keep']);
    expect(kindsInForce(line('anna 1 9', keep('a')), line('bea 1 1', leaveOut('a')))).toEqual(['keep']);
  });

  it('LB9: callers who know that two files are one exposure get the same answer for both', () => {
    const lines = [line('anna 1 1', keep('jpeg')), line('bea 1 9', leaveOut('raw'))];
    const { inForce } = fold(lines);
    expect(lastWord(inForce as never, causalityOf(lines))?.decision.kind).toBe('keep');
  });

  it('LB10: a takedown outlives every later keep and publication', () => {
    const folded = fold([
      line('anna 1', { kind: 'take-down', file: file('a') }),
      line('anna 2', keep('a')),
      line('anna 3', { kind: 'published', edition: 'two', riders: { r1: [file('a')] } }),
    ]);
    expect(folded.inForce.map(({ decision }) => decision.kind)).toEqual(['take-down', 'published']);
    expect(takenDown(folded).files).toEqual(new Set(['a']));
  });

  it('LB10: undo never offers a takedown, but withdrawing it by name lifts it', () => {
    const down = line('anna 1', { kind: 'take-down', file: file('a') });
    expect(fold([down]).gestures).toEqual([]);
    expect(kindsInForce(down, line('anna 2', withdraw(down)))).toEqual([]);
  });

  it('LB6: undo passes over a handing over and takes back the last word before it', () => {
    const said = line('anna 1', keep('a'));
    const minted = line('anna 2', { kind: 'rider-minted', rider: 'r1' as RiderId, points: [] });
    const published = line('anna 3', { kind: 'published', edition: 'one', riders: { r1: [file('a')] } });
    expect(fold([said, minted, published]).gestures).toEqual([said.gesture]);
  });
});

const FILES = ['a', 'b', 'c'];
/** Logs of up to three writers with duplicate gestures, withdraws of anything, and merges that were noted. */
const someLines: fc.Arbitrary<readonly LogLine[]> = fc
  .array(
    fc.record({
      writer: fc.constantFrom('anna', 'bea', 'cleo'),
      what: fc.constantFrom('keep', 'leave-out', 'take-down', 'withdraw', 'seen', 'hover-over'),
      file: fc.constantFrom(...FILES),
      lamportStep: fc.integer({ min: 1, max: 3 }),
      gesture: fc.nat(12),
      about: fc.nat(12),
    }),
    { maxLength: 25 },
  )
  .map((said) => {
    const seqs = new Map<string, number>();
    let lamport = 0;
    return said.map(({ writer, what, file: name, lamportStep, gesture, about }) => {
      const seq = (seqs.get(writer) ?? 0) + 1;
      const known = Object.fromEntries(seqs);
      seqs.set(writer, seq);
      lamport += lamportStep - 1;
      const decisions: Record<string, Decision | UnknownDecision> = {
        keep: keep(name),
        'leave-out': leaveOut(name),
        'take-down': { kind: 'take-down', file: file(name) },
        withdraw: { kind: 'withdraw', gesture: `g${about}` as GestureId },
        seen: seen(known),
      };
      const decision = decisions[what] ?? { kind: what };
      return line(`${writer} ${seq} ${lamport}`, decision, { gesture: `g${gesture}` as GestureId });
    });
  });

describe('folding and merging, for any lines', () => {
  it('LB11: folding does not depend on the order of files or lines, nor on a file being there twice', () => {
    fc.assert(
      fc.property(someLines, fc.infiniteStream(fc.nat()), (lines, order) => {
        const keys = lines.map(() => order.next().value as number);
        const shuffled = lines.map((_, i) => i).sort((a, b) => (keys[a] as number) - (keys[b] as number));
        const other = shuffled.map((i) => lines[i] as LogLine);
        expect(fold(other, lines.slice(0, 5))).toEqual(fold(lines));
      }),
    );
  });

  it('LB11: merging is commutative, associative and idempotent', () => {
    fc.assert(
      fc.property(someLines, someLines, someLines, (a, b, c) => {
        expect(mergeLines(a, b)).toEqual(mergeLines(b, a));
        expect(mergeLines(mergeLines(a, b), c)).toEqual(mergeLines(a, mergeLines(b, c)));
        expect(mergeLines(a, a)).toEqual(mergeLines(a));
      }),
    );
  });

  it('LB11: nothing is lost: every line of every writer is in the fold, and what is in force was said', () => {
    fc.assert(
      fc.property(someLines, (lines) => {
        const folded = fold(lines);
        expect(new Set(folded.lines)).toEqual(new Set(lines));
        for (const { line: said } of folded.inForce) expect(lines).toContain(said);
        for (const { decision } of folded.inForce) {
          if (decision.kind === 'keep') expect(takenDown(folded).files.has(decision.file)).toBe(false);
        }
      }),
    );
  });
});
