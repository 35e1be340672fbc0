/** Something is wrong: the sentence first, then the way back. */
import { Link } from '@tanstack/react-router';

export function Trouble({ sentence }: { readonly sentence: string }) {
  return (
    <main id="sheet">
      <h1 className="head urgent">{sentence}</h1>
      <p className="lead">
        <Link to="/">Back to the day</Link>
      </p>
    </main>
  );
}
