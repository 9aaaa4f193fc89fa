/* Something more to write down: a button opens its form; kept or left, the form closes again. The
 * keyboard goes into the form and comes back to the button. */
import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
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
  const [open, setOpen] = useState(false),
    box = useRef<HTMLDivElement>(null),
    pressed = useRef(false);
  const turn = (to: boolean) => {
    pressed.current = true;
    setOpen(to);
  };
  useEffect(() => {
    if (pressed.current) box.current?.querySelector<HTMLElement>('input, select, button')?.focus();
  }, [open]);
  return (
    <div ref={box}>
      {open ? (
        <>
          <div class="form gap-s">{children}</div>
          <div class="acts">
            <Act
              kind="btn main"
              enter
              run={async () => {
                if ((await run()) === undefined) turn(false);
              }}
            >
              {keep}
            </Act>
            <button type="button" class="btn" onClick={() => turn(false)}>
              Leave it
            </button>
          </div>
        </>
      ) : (
        <button type="button" class="btn" onClick={() => turn(true)}>
          {ask}
        </button>
      )}
    </div>
  );
}
