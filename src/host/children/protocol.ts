/** What a pool and its children say to each other. Plain data: it travels as JSON. */

export interface ToChild<Job> {
  readonly id: number;
  readonly job: Job;
}

export type FromChild<Answer> =
  /** Libraries and models are loaded; a child that dies before saying so is the program's fault, not a file's. */
  | { readonly kind: 'ready' }
  | { readonly kind: 'answer'; readonly id: number; readonly answer: Answer; readonly residentBytes: number }
  /** The job could not be done for a reason that does not lie in the file. */
  | { readonly kind: 'refused'; readonly id: number; readonly sentence: string };
