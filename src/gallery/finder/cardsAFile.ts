/** Cards of riders lie a dozen a file: small enough to come quickly, few enough files. */
export const CARDS_A_FILE = 12;
