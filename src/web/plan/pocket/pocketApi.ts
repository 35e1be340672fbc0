/** The desk's answers about the phone's day, taps and cards. */
import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import type { CarriedView, PocketView, RollCallView, TapsView } from '../../../server/pocketTypes.js';
import { ask, post } from '../../api/client.js';

export const pocketDesk = {
  address: (address: string) => post<{ address: string }>('/api/pocket/address', { address }),
  carry: (date: string, photographer: number) => post<CarriedView>('/api/pocket/carry', { date, photographer }),
  writeFolder: () => post<{ sentence: string }>('/api/pocket/folder'),
  taps: (text: string) => post<TapsView>('/api/taps', { text }),
  sayTaps: (text: string) => post<TapsView>('/api/taps/say', { text }),
  handCard: (number: number, name: string, contact: string) =>
    post<{ written: true }>('/api/card-holders', { number, name, contact }),
};

export const pocketQuery = (date: string) =>
  queryOptions({
    queryKey: ['pocket', date],
    queryFn: () => ask<PocketView>(`/api/pocket?date=${date}`),
    placeholderData: keepPreviousData,
  });

export const rollCallQuery = (from: number, to: number, group: string) =>
  queryOptions({
    queryKey: ['roll-call', from, to, group],
    queryFn: () => ask<RollCallView>(`/api/roll-call?from=${from}&to=${to}&group=${encodeURIComponent(group)}`),
    placeholderData: keepPreviousData,
  });

const fileAddress = (what: 'page' | 'code', date: string, photographer: number): string =>
  `/api/pocket/${what}?date=${date}&photographer=${photographer}`;
export const pageFile = (date: string, photographer: number): string => fileAddress('page', date, photographer);
export const codeFile = (date: string, photographer: number): string => fileAddress('code', date, photographer);
