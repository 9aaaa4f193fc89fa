/* Beds and cribs. */
import { across, put, type Body, type Faces } from './body';

export function bed(b: Body): Faces {
  const { w, d, h } = b,
    leg = Math.min(b.leg ?? 70, w / 8),
    foot = h - Math.min(b.open ?? h / 2, h),
    rail = h - Math.min(430, 0.45 * h);
  const post = (part: string, x: number, top: number) =>
    put('leg', part, [x, top, leg, h - top]);
  const head = Math.min(0.8 * h, h - 350 > 0 ? h - 350 : 0.7 * h),
    front = [
      put('back', 'head', [leg, 0, w - 2 * leg, head]),
      post('head_posts', 0, 0),
      post('head_posts', w - leg, 0),
      put('back', 'foot', [leg, foot, w - 2 * leg, Math.max(0.5 * (h - foot), h - foot - 250)]),
      post('foot_posts', 0, foot),
      post('foot_posts', w - leg, foot),
    ];
  const side = [
    put('rail', 'rails', [leg, rail, d - 2 * leg, 180]),
    post('head_posts', 0, 0),
    post('foot_posts', d - leg, foot),
  ];
  return { front, side };
}

export function crib(b: Body): Faces {
  const { w, d, h, n } = b,
    leg = Math.min(b.leg ?? 45, w / 8),
    under = h - Math.min(250, 0.25 * h),
    top = Math.max(0, under - (b.open ?? 0.6 * h)),
    shown = Math.min(Math.ceil(n.slats / 2), 30); /* two long sides: one is seen */
  const posts = (width: number) =>
    [0, width - leg].map((x) => put('leg', 'posts', [x, 0, leg, h]));
  const pitch = (w - 2 * leg) / Math.max(1, shown),
    wide = Math.min(30, 0.6 * pitch);
  const front = [
    ...across(shown, leg, w - leg, (x) =>
      put('slat', 'slats', [x - wide / 2, top + 35, wide, under - top - 70]),
    ),
    ...[top, under - 35].map((y) => put('rail', 'side_rails', [leg, y, w - 2 * leg, 35])),
    ...posts(w),
  ];
  return { front, side: [put('side', 'ends', [leg, 0, d - 2 * leg, under]), ...posts(d)] };
}
