/* A figure that opens to its basis: the one mechanism for every number on every page.
 * useFigure gives the button and the panel apart, because the panel hangs under the row, not under
 * the number. */
import { createContext, type ComponentChildren, type VNode } from 'preact';
import { useContext, useEffect, useId, useRef, useState } from 'preact/hooks';
import type { Basis, Units } from '../net/types';
import { BasisPanel } from './basis';

interface BasisSource {
  units: Units;
  find: (pointer: string) => Promise<Basis | undefined>;
}
export const Bases = createContext<BasisSource>({ units: 'us', find: async () => undefined });

interface FigureProps {
  pointer?: string;
  text: ComponentChildren;
  assumed?: boolean;
  label?: string;
}

/* What opens under a figure: its two ends, so that a row can put them where they belong. */
export function useFigure({ pointer, text, assumed, label }: FigureProps): {
  button: VNode;
  panel: VNode | null;
  open: boolean;
} {
  const source = useContext(Bases);
  const id = useId();
  const [open, setOpen] = useState(false);
  const [basis, setBasis] = useState<Basis | null | undefined>(undefined);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (!open || !pointer) return;
    let gone = false;
    source.find(pointer).then((b) => {
      if (!gone) setBasis(b ?? null);
    });
    return () => {
      gone = true;
    };
  }, [open, pointer, source]);
  const said = assumed ? <span class="vh">, assumed</span> : null;
  if (!pointer)
    return {
      button: (
        <span class={assumed ? 'figure-still assumed' : 'figure-still'}>
          {text}
          {said}
        </span>
      ),
      panel: null,
      open: false,
    };
  const close = () => {
    setOpen(false);
    button.current?.focus();
  };
  return {
    open,
    button: (
      <button
        ref={button}
        type="button"
        class={assumed ? 'fig assumed' : 'fig'}
        aria-expanded={open}
        aria-controls={id}
        aria-label={label}
        onClick={() => setOpen(!open)}
        onKeyDown={(e) => {
          if (e.key === 'Escape' && open) {
            e.stopPropagation();
            close();
          }
        }}
      >
        {text}
        {said}
      </button>
    ),
    panel: open ? <BasisPanel id={id} basis={basis} close={close} /> : null,
  };
}
