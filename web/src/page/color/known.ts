/* How well the shelf's colors are known: each paint that can be mixed, each sample against all the
 * others. */
import { useAnswer } from '../../net/use';

export interface KnownPaint {
  id: string;
  name?: string;
  known?: 'color' | 'spectrum' | 'recipe';
  samples?: number;
  expected_difference?: number;
  difference_90?: number;
  impossible?: boolean;
  can_of?: string; /* id of the paint that it is another can of */
  lots?: string; /* what it begins with, and how far lots differ */
  text?: string;
  with?: string; /* the other paint of the mix that the doubt is of */
}
export interface KnownSample {
  id: string;
  residual?: number;
  difference?: number;
  difference_90?: number;
  predicted_hex?: string;
  contradicts?: boolean;
  text?: string;
}
/** A card that was read wet: what it should dry to, or why that is not told yet. */
export interface KnownWet {
  id: string;
  hex?: string;
  learnt?: boolean;
  pairs?: number;
  doubt?: number;
  text?: string;
}
const NONE: never[] = [];
export function useKnown() {
  const live = useAnswer<{
    paints?: KnownPaint[];
    samples?: KnownSample[];
    wet?: KnownWet[];
  }>('/api/shelf/known');
  const rows: KnownPaint[] = live.data?.paints ?? NONE,
    samples: KnownSample[] = live.data?.samples ?? NONE,
    wet: KnownWet[] = live.data?.wet ?? NONE;
  return {
    rows,
    samples,
    wet,
    doubted: samples.filter((s) => s.contradicts),
    read: !!live.data || !!live.failure,
  };
}
