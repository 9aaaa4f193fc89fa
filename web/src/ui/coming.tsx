/* A page whose answer is on its way, or did not come: it has its heading all the same. */
import type { Failure } from '../net/api';

export function Coming({ title, says, failure }: { title: string; says: string; failure?: Failure }) {
  return (
    <div class="head">
      <div>
        <h1>{title}</h1>
        <p class={failure && 'note'}>{failure?.text ?? says}</p>
      </div>
    </div>
  );
}
