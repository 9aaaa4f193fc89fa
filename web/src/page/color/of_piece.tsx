/* The color part of a piece's sheet, to look at: target beside the plan's mix, its doubt, coat after
 * coat over what is on the piece now, and the batches that were mixed for it. */
import type { PiecePlan } from '../../net/types';
import { DifferenceHead, DifferenceLine, differenceWord } from '../../draw/difference';
import { labCss } from '../../draw/parts';
import { MixedBefore } from './before';
import { Hiding } from './hiding';
import { Batches } from './kept';

export function ColorOfPiece({ id, plan }: { id: string; plan: PiecePlan }) {
  const color = plan.color,
    target = color?.target?.hex ?? labCss(color?.target?.lab),
    mix = labCss(color?.lab),
    items = (color?.lines ?? []).map((l) => ({ paint: l.paint ?? '', parts: l.parts ?? 0 })),
    most = color?.expected_difference ?? color?.difference;
  return (
    <div class="of-piece no-print">
      {target && mix && (
        <>
          <div class="surround small">
            <div class="pair" role="img" aria-label="Target beside the mix of the plan">
              <div style={{ background: target }} />
              <div style={{ background: mix }} />
            </div>
          </div>
          <div class="pair-cap">
            <div>
              <b>Target</b>
            </div>
            <div>
              <b>{color?.batch ? 'The batch' : 'The plan’s mix'}</b>{' '}
              {color?.batch && color.difference !== undefined && (
                <span class="num">
                  {color.difference.toFixed(1)} off, {differenceWord(color.difference)}
                </span>
              )}
              {!color?.batch && most !== undefined && (
                <span class="num">
                  expect {most.toFixed(1)}, {differenceWord(most)}
                </span>
              )}
              {!color?.batch && most !== undefined && (
                <>
                  <DifferenceHead />
                  <DifferenceLine
                    at={color?.difference}
                    expected={color?.expected_difference}
                    most={color?.difference_90}
                  />
                </>
              )}
            </div>
          </div>
        </>
      )}
      {!color?.batch && (
        <MixedBefore piece={id} colors={[color?.target?.text, color?.target?.hex]} />
      )}
      <div class="acts">
        <a class="btn" href={`/color/${encodeURIComponent(id)}`}>
          Mix and compare
        </a>
      </div>
      {items.length > 0 && (
        <>
          <h3 class="gap">Over what is on it now</h3>
          <Hiding items={items} ground={plan.piece.now_color?.hex} fixed />
        </>
      )}
      <Batches piece={id} inside />
    </div>
  );
}
