/* How many coats hide the ground at hand: the ground, then coat after coat, edge to edge. */
import { useEffect, useState } from 'preact/hooks';
import { get, tick, type Failure } from '../../net/api';
import { useCell } from '../../net/use';
import { ColorField } from '../../ui/edit';
import { ask, itemsText, type MixItem } from './kinds';

interface Coats {
  coats?: number;
  hidden?: boolean;
  ground_hex?: string;
  text?: string;
  how?: string;
  rows?: { coats?: number; hex?: string; difference?: number }[];
}
export function Hiding({
  items,
  ground,
  fixed,
}: {
  items: MixItem[];
  ground?: string;
  fixed?: boolean /* no other ground may be tried here */;
}) {
  const changes = useCell(tick), /* what is learned changes what the same mix hides */
    [over, setOver] = useState(''),
    [state, set] = useState<{ coats?: Coats; failure?: Failure }>({}),
    text = itemsText(items),
    path = text ? ask('/api/hiding', { items: text, ground: over || ground }) : '';
  useEffect(() => {
    if (!path) return;
    const stop = new AbortController(),
      t = setTimeout(() => {
        get<Coats>(path, stop.signal).then(
          (o) => set(o.ok ? { coats: o.body } : { failure: o.failure }),
          () => undefined,
        );
      }, 200);
    return () => {
      clearTimeout(t);
      stop.abort();
    };
  }, [path, changes]);
  const c = state.coats;
  return (
    <>
      {state.failure && <p class="note">{state.failure.text}</p>}
      {c && (
        <>
          <p class="say">{c.text}</p>
          <div class="surround small">
            <ol class="coats-strip">
              <li>
                <i style={{ background: c.ground_hex }} />
              </li>
              {(c.rows ?? []).map((r) => (
                <li>
                  <i style={{ background: r.hex }} />
                </li>
              ))}
            </ol>
          </div>
          <ol class="coats-strip said-strip" aria-label="What each coat leaves to see">
            <li>
              <b>ground</b>
            </li>
            {(c.rows ?? []).map((r) => (
              <li class={r.coats === c.coats && c.hidden ? 'here' : ''}>
                <b>
                  {r.coats} {r.coats === 1 ? 'coat' : 'coats'}
                </b>
                <small>{(r.difference ?? 0).toFixed(1)} off</small>
              </li>
            ))}
          </ol>
          {c.how && !fixed && <p class="k gap-s">{c.how}</p>}
        </>
      )}
      {!fixed && (
        <div class="form gap-s">
          <ColorField
            key={c?.ground_hex}
            label="The ground at hand"
            value={over || (c?.ground_hex ?? '')}
            set={setOver}
          />
        </div>
      )}
    </>
  );
}
