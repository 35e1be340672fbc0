/**
 * How riders of real pictures sit and look, by eye at full size and by one person, before anything judged it; named by file alone,
 * for the pictures may not be copied (see their README). Whoever is half turned, half in or hard to see is not listed.
 */
const SEEN = {
  knee: {
    out: '2 14 38 48 56 57 74 76 86 97 102 129 131 182 189 196 210 215 225 233',
    in: '4 37 52 63 73 88 105 124 138 155 157 187 224',
  },
  head: {
    towards: '5 38 120 129 131 138 155 157 166 182 196 224 225 233',
    away: '4 52 73 88 105 124 128 167 185 216',
  },
} as const;

/** By the number a file is called by, its leading noughts left out. */
export const seenRiders = (what: keyof typeof SEEN): ReadonlyMap<string, string> =>
  new Map(Object.entries(SEEN[what]).flatMap(([is, files]) => files.split(' ').map((file) => [file, is] as const)));
