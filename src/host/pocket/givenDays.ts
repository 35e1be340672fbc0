/**
 * Which days were given along to phones: a line each with the day's check and when, in the meeting's folder. What is tapped comes
 * back with the check of the day it was tapped by; one that was never given from here may be of another meeting of that date.
 */
import { appendFile, mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

const fileIn = (folder: string): string => join(folder, 'made', 'pocket-given.txt');

export async function noteGiven(folder: string, check: string, at: Date): Promise<void> {
  await mkdir(join(folder, 'made'), { recursive: true });
  await appendFile(fileIn(folder), `${check} ${at.toISOString()}\n`);
}

/** Null: none is known to have been given from here. */
export async function daysGiven(folder: string): Promise<ReadonlySet<string> | null> {
  const text = await readFile(fileIn(folder), 'utf8').catch(() => '');
  const checks = text.match(/^[0-9a-f]{8}(?= )/gm);
  return checks === null ? null : new Set(checks);
}
