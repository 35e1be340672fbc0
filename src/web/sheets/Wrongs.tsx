/** What is wrong with what was written, each in a sentence. */
export const Wrongs = ({ sentences }: { readonly sentences: readonly string[] }) =>
  sentences.length === 0 ? null : (
    <ul className="wrongs">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
