/** What the lunch sheet asks the desk. */
import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import { desk } from '../api/client.js';

export const lunchQuery = (date: string | null) =>
  queryOptions({
    queryKey: ['lunch', date],
    queryFn: () => desk.lunch(date),
    placeholderData: keepPreviousData,
  });

export const kitQuery = queryOptions({ queryKey: ['kit'], queryFn: desk.kit, placeholderData: keepPreviousData });
