/* Something more to write down: a button opens its form; kept or left, the form closes again. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { Act } from './controls';

export function More({
  ask,
  keep,
  run,
  children,
}: {
  ask: string; /* the button that opens the form */
  keep: string;
  run: () => Promise<string | undefined>; /* the reason where it was not taken: what was typed stays */
  children: ComponentChildren;
}) {
  const [open, setOpen] = useState(false);
  if (!open)
    return (
      <button type="button" class="btn" onClick={() => setOpen(true)}>
        {ask}
      </button>
    );
  return (
    <>
      <div class="form gap-s">{children}</div>
      <div class="acts">
        <Act
          kind="btn main"
          run={async () => {
            if ((await run()) === undefined) setOpen(false);
          }}
        >
          {keep}
        </Act>
        <button type="button" class="btn" onClick={() => setOpen(false)}>
          Leave it
        </button>
      </div>
    </>
  );
}
