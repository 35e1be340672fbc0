/** What the sheet of what worked asks the desk. */
import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import { desk } from '../api/client.js';
import type { BesideFile } from './besideFile.js';

export const reviewQuery = queryOptions({
  queryKey: ['review'],
  queryFn: desk.review,
  placeholderData: keepPreviousData,
});

export const besideQuery = (chosen: BesideFile | null) =>
  queryOptions({
    queryKey: ['review', 'beside', chosen?.at ?? null],
    queryFn: () => (chosen === null ? null : desk.beside(chosen.file)),
  });
