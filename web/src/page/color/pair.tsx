/* Target beside mix, edge to edge, on a neutral ground. */
import { differenceWord } from '../../draw/difference';
import { LIGHTS, css, type Light, type Mix, type Surface } from './kinds';

export function Pair({
  target,
  mix,
  light,
  surface,
  name,
  again,
}: {
  target: string;
  mix?: Mix;
  light: Light;
  surface: Surface;
  name?: string;
  again?: boolean; /* by the recipe of a batch, out of the same paints: its color is that of the batch */
}) {
  const look = mix?.lights?.find((l) => l.light === light),
    wanted = mix?.target_lights?.find((l) => l.light === light);
  /* CSS takes it as it was written, wide colors too; a Munsell notation it does not know */
  const direct = light === 'd65' && CSS.supports('color', target);
  const daylight = light === 'd65' && surface === 'satin',
    shown = daylight ? css(mix) : surface === 'flat' ? look?.hex_flat : look?.hex,
    off = daylight
      ? mix?.difference
      : surface === 'flat'
        ? look?.difference_flat
        : look?.difference;
  return (
    <>
      <div class="surround seam">
        <div class="pair" role="img" aria-label={`Target ${target || 'none yet'} beside the mix`}>
          <div
            style={{ background: (direct ? target : wanted?.hex) || 'transparent' }}
            class={target ? '' : 'none'}
          />
          <div
            style={{ background: shown ?? 'transparent' }}
            class={mix ? 'the-mix' : 'the-mix none'}
          />
        </div>
      </div>
      <div class="pair-cap">
        <div>
          <b>{name ?? 'Target'}</b>
          <small>{target || 'none yet: write or pick one below'}</small>
        </div>
        <div>
          <b>The mix</b>{' '}
          {off !== undefined && (
            <span class="num">
              {off.toFixed(1)} off, {differenceWord(off)}
            </span>
          )}
          <small>
            {!mix
              ? 'nothing mixed yet'
              : [
                  light !== 'd65' &&
                    `As both look under ${LIGHTS.find(([l]) => l === light)?.[1].toLowerCase()}.`,
                  surface === 'flat' && 'The paint drying flat: its surface scatters more light.',
                  daylight && mix.text && `${mix.text.charAt(0).toUpperCase()}${mix.text.slice(1)}.`,
                  again && (mix.difference ?? 9) < 1
                    ? 'By the old recipe: it dries as that batch did, but for what the pours differ.'
                    : mix.expected_difference !== undefined &&
                    `Expect ${mix.expected_difference.toFixed(1)} once dry; nine of ten within ${(mix.difference_90 ?? mix.expected_difference).toFixed(1)}.`,
                ]
                  .filter(Boolean)
                  .join(' ')}
          </small>
        </div>
      </div>
    </>
  );
}
