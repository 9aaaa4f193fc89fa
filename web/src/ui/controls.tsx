/* Controls of the house: 48 px high, named by words. */
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { useDraft } from './draft';

export function Seg<T extends string>({
  label,
  value,
  options,
  set,
  hide,
}: {
  label: string;
  value: T;
  options: readonly (readonly [T, string])[];
  set: (v: T) => void;
  hide?: boolean;
}) {
  return (
    <div class="seg-field">
      <span class={hide ? 'vh' : 'k'}>{label}</span>
      <div class="seg" role="group" aria-label={label}>
        {options.map(([v, text]) => (
          <button type="button" aria-pressed={v === value} onClick={() => set(v)}>
            {text}
          </button>
        ))}
      </div>
    </div>
  );
}

type InputEvent = { currentTarget: HTMLInputElement | HTMLTextAreaElement };
interface InputProps {
  list?: string;
  value?: string;
  type?: 'text' | 'search' | 'date';
  placeholder?: string;
  inputMode?: 'numeric' | 'decimal';
  spellcheck?: boolean;
  rows?: number; /* several lines */
  onInput?: (e: InputEvent) => void;
  onChange?: (e: InputEvent) => void;
}
/* What a pressed button was refused for is brought before the eye, also out of a folded part. Whoever
 * types in another field by then is left alone. */
function useShown(error: string | undefined) {
  const ref = useRef<HTMLElement | null>(null);
  useEffect(() => {
    const at = ref.current;
    if (!error || !at || !(document.activeElement instanceof HTMLButtonElement)) return;
    const folded = at.closest('details');
    if (folded) folded.open = true;
    at.focus({ preventScroll: true });
    at.scrollIntoView({ block: 'center' });
  }, [error]);
  return ref;
}
/* With `onInput` the page holds every letter; with `onChange` alone the field holds what is typed
 * until it is complete. An example stands below only as long as the field is empty. */
export function Field({
  label,
  help,
  example,
  error,
  value = '',
  onInput,
  onChange,
  ...input
}: { label: string; help?: string; example?: string; error?: string } & InputProps) {
  const id = useId(),
    draft = useDraft(value),
    shown = useShown(error),
    text = onInput ? value : draft.text,
    says = error ?? help ?? (text ? undefined : example),
    Kind = input.rows ? 'textarea' : 'input';
  return (
    <div class={error ? 'field wrong' : 'field'}>
      <label for={id}>{label}</label>
      <Kind
        id={id}
        ref={shown as never}
        autocomplete="off"
        aria-describedby={says ? `${id}-h` : undefined}
        aria-invalid={!!error}
        placeholder=" " /* paper leaves out what is empty (print.css) */
        {...(input as object)}
        value={text}
        onInput={onInput ?? ((e: InputEvent) => draft.type(e.currentTarget.value))}
        onChange={(e: InputEvent) => {
          if (!onInput) draft.tell(e.currentTarget.value);
          onChange?.(e);
        }}
      />
      {says && <small id={`${id}-h`}>{says}</small>}
    </div>
  );
}
export function Select({
  label,
  value,
  options,
  set,
  help,
  error,
}: {
  label: string;
  value: string;
  options: readonly (readonly [string, string])[];
  set: (v: string) => void;
  help?: string;
  error?: string;
}) {
  const id = useId(),
    shown = useShown(error),
    says = error ?? help;
  return (
    <div class={error ? 'field wrong' : 'field'}>
      <label for={id}>{label}</label>
      <select
        id={id}
        ref={shown as never}
        value={value}
        aria-describedby={says ? `${id}-h` : undefined}
        aria-invalid={!!error}
        onChange={(e) => set(e.currentTarget.value)}
      >
        {options.map(([v, t]) => (
          <option value={v} selected={v === value}>
            {t}
          </option>
        ))}
      </select>
      {says && <small id={`${id}-h`}>{says}</small>}
    </div>
  );
}

/* A button that shows its work and cannot be pressed twice. */
export function Act({
  children,
  run,
  kind = 'btn',
  disabled,
  enter,
}: {
  children: ComponentChildren;
  run: () => Promise<unknown> | void;
  kind?: string;
  disabled?: boolean;
  enter?: boolean; /* Enter in a field of its form presses it (enter.ts) */
}) {
  const [busy, setBusy] = useState(false);
  const press = async () => {
    if (busy) return;
    setBusy(true);
    try {
      await run();
    } finally {
      setBusy(false);
    }
  };
  return (
    <button
      type="button"
      class={kind}
      aria-busy={busy}
      disabled={disabled}
      data-enter={enter}
      onClick={press}
    >
      {children}
    </button>
  );
}

export function Swatch({ hex, big, clear }: { hex?: string; big?: boolean; clear?: boolean }) {
  return (
    <i
      class={`${big ? 'chip' : 'sw'}${hex ? '' : clear ? ' bare glass' : ' bare'}`}
      style={hex ? { background: hex } : undefined}
      aria-hidden="true"
    />
  );
}

/* An empty place says what will stand here and how it comes here. */
export function Empty({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <div class="empty">
      <p class="empty-t">{title}</p>
      <div class="say">{children}</div>
    </div>
  );
}
export function capital(s: string | undefined): string {
  const t = (s ?? '').replace(/[_-]/g, ' ');
  return t.charAt(0).toUpperCase() + t.slice(1);
}
