/* Any two colors beside each other: how far apart they look, and each in the other notations. */
import { useState } from 'preact/hooks';
import { useAnswer } from '../../net/use';
import { differenceWord } from '../../draw/difference';
import { ColorField } from '../../ui/edit';
import { ask } from './kinds';

interface Shown {
  hex?: string;
  rgb?: string;
  lab_text?: string;
  lch?: string;
  oklch?: string;
  display_p3?: string;
  munsell?: string;
  mapped?: boolean;
}
const ROWS: readonly (readonly [keyof Shown, string])[] = [
  ['hex', 'Screen'],
  ['rgb', 'Red, green, blue'],
  ['lab_text', 'Lab'],
  ['lch', 'Lightness, chroma, hue'],
  ['oklch', 'OkLCh'],
  ['display_p3', 'Wide screen'],
  ['munsell', 'Munsell book'],
];
const useShown = (color: string) =>
  useAnswer<Shown>(color ? ask('/api/colors/show', { color }) : null);

export function Beside({ target }: { target: string }) {
  const [a, setA] = useState<string | undefined>(),
    [b, setB] = useState('');
  const first = a ?? target,
    one = useShown(first),
    two = useShown(b),
    apart = useAnswer<{ difference: number }>(
      first && b && one.data && two.data ? ask('/api/colors/difference', { a: first, b }) : null,
    ).data?.difference;
  const wrong = one.failure?.text ?? two.failure?.text;
  return (
    <details class="gap no-print">
      <summary>Any two colors beside each other</summary>
      <div class="form gap-s">
        <ColorField label="One color" value={first} hex={one.data?.hex} set={setA} />
        <ColorField label="The other" value={b} hex={two.data?.hex} set={setB} />
      </div>
      {wrong && (
        <p class="note gap-s" role="status">
          <b>{wrong}</b>
        </p>
      )}
      {one.data && (
        <>
          <div class="surround small gap-s">
            <div class="pair" role="img" aria-label={`${first} beside ${b || 'nothing yet'}`}>
              <div style={{ background: one.data.hex }} />
              <div style={{ background: two.data?.hex ?? 'transparent' }} class={two.data ? '' : 'none'} />
            </div>
          </div>
          {apart !== undefined && (
            <p class="gap-s">
              <b>{apart.toFixed(1)} apart</b>, {differenceWord(apart)}.
            </p>
          )}
          <table class="table gap-s">
            <thead>
              <tr>
                <th scope="col">Written as</th>
                <th scope="col">One color</th>
                {two.data && <th scope="col">The other</th>}
              </tr>
            </thead>
            <tbody>
              {ROWS.map(([k, label]) => (
                <tr>
                  <th scope="row">{label}</th>
                  <td>{one.data?.[k]}</td>
                  {two.data && <td>{two.data[k]}</td>}
                </tr>
              ))}
            </tbody>
          </table>
          {(one.data.mapped || two.data?.mapped) && (
            <p class="note gap-s">
              <b>Stronger than this screen can show.</b> It is drawn as near as a screen comes.
            </p>
          )}
        </>
      )}
    </details>
  );
}
