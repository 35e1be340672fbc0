/** The last answer, while it is asked the very same things again. Things asked must not be changed in place. */
export function rememberLast<Asked extends readonly unknown[], Answer>(
  work: (...asked: Asked) => Answer,
): (...asked: Asked) => Answer {
  let last: { readonly asked: Asked; readonly answer: Answer } | null = null;
  return (...asked) => {
    if (last === null || asked.some((one, i) => !Object.is(one, last!.asked[i])))
      last = { asked, answer: work(...asked) };
    return last.answer;
  };
}
