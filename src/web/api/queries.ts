/** Views as queries: kept while a newer one is fetched, so that nothing on the screen jumps. */
import { keepPreviousData, QueryClient, queryOptions } from '@tanstack/react-query';
import { createStore } from '../stores/store.js';
import { desk } from './client.js';

export const queries = new QueryClient({
  defaultOptions: { queries: { staleTime: Number.POSITIVE_INFINITY, retry: false, refetchOnWindowFocus: false } },
});

/** The day that is drawn, `YYYY-MM-DD`; null leaves it to the desk. */
export const dateShown = createStore<string | null>(null);

export const dayQuery = (date: string | null) =>
  queryOptions({ queryKey: ['day', date], queryFn: () => desk.day(date), placeholderData: keepPreviousData });
export const stretchQuery = (from: number, to: number) =>
  queryOptions({
    queryKey: ['stretch', from, to],
    queryFn: () => desk.stretch(from, to),
    placeholderData: keepPreviousData,
  });
export const groupQuery = (key: string) => queryOptions({ queryKey: ['group', key], queryFn: () => desk.group(key) });
export const riderQuery = (key: string, frame?: string) =>
  queryOptions({
    queryKey: ['rider', key, frame ?? ''],
    queryFn: () => desk.rider(key, frame),
    placeholderData: keepPreviousData,
  });
export const ridersQuery = queryOptions({
  queryKey: ['riders'],
  queryFn: desk.riders,
  placeholderData: keepPreviousData,
});
export const likeliestQuery = (frame: string, bike?: number) =>
  queryOptions({ queryKey: ['likeliest', frame, bike ?? ''], queryFn: () => desk.likeliest(frame, bike) });
export const sessionQuery = (index: number) =>
  queryOptions({ queryKey: ['session', index], queryFn: () => desk.session(index), placeholderData: keepPreviousData });
export const apartQuery = queryOptions({
  queryKey: ['apart'],
  queryFn: desk.apart,
  placeholderData: keepPreviousData,
});
export const questionsQuery = queryOptions({
  queryKey: ['questions'],
  queryFn: desk.questions,
  placeholderData: keepPreviousData,
});
export const beforeQuery = (date: string | null) =>
  queryOptions({ queryKey: ['before', date], queryFn: () => desk.before(date) });
export const officeQuery = (date: string) =>
  queryOptions({ queryKey: ['office', date], queryFn: () => desk.office(date), placeholderData: keepPreviousData });
export const circuitQuery = queryOptions({
  queryKey: ['circuit'],
  queryFn: desk.circuit,
  placeholderData: keepPreviousData,
});
export const actionsQuery = queryOptions({ queryKey: ['actions'], queryFn: desk.actions });
export const planQuery = (date: string) =>
  queryOptions({ queryKey: ['plan', date], queryFn: () => desk.plan(date), placeholderData: keepPreviousData });
export const ladderQuery = (date: string, spot: string, at: number) =>
  queryOptions({
    queryKey: ['plan', 'ladder', date, spot, at],
    queryFn: () => desk.ladder(date, spot, at),
    placeholderData: keepPreviousData,
  });
