/* What a wet reading should dry to, by the shop's own pairs; or how many more it takes. */
import { useEffect, useState } from 'preact/hooks';
import { get } from '../../net/api';
import { Swatch } from '../../ui/controls';
import { failureText } from '../../ui/said';
import { ask, itemsText, type MixItem } from './kinds';

interface Wet {
  hex?: string;
  text?: string;
}
export function Dries({ color, items }: { color: string; items: MixItem[] }) {
  const mix = itemsText(items),
    [wet, set] = useState<Wet>({});
  useEffect(() => {
    if (!color || !mix) {
      set({});
      return;
    }
    let last = true;
    const typed = setTimeout(() => {
      void get<Wet>(ask('/api/shelf/wet', { color, items: mix })).then((o) => {
        if (last) set(o.ok ? o.body : { text: failureText(o.failure) });
      });
    }, 300);
    return () => {
      last = false;
      clearTimeout(typed);
    };
  }, [color, mix]);
  return wet.text ? (
    <p class="say gap-s">
      {wet.hex && <Swatch hex={wet.hex} />} {wet.text}
    </p>
  ) : null;
}
