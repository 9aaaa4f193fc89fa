/* A color read from a picture: take it, mark what is known and what is wanted, read, use. The
 * address says what it is of: /photo?items=white=3,black=1 (a card of that mix), batch=ID, back=PATH. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { get, send } from '../net/api';
import { CORNERS, chartMarks, findAgain, lookOf, sendPicture, shotOf } from '../net/picture';
import type { Chart, Kind, Mark, Picture, Point, Reading } from '../net/picture';
import { useAnswer, useCell } from '../net/use';
import type { List } from '../net/types';
import { askedPlace, place } from '../lib/router';
import { Marks } from '../draw/marks';
import { Act, Field } from '../ui/controls';
import { failureText, say } from '../ui/said';
import { Take } from '../ui/take';
import type { Paint } from './shelf';
import { CALLED, KINDS, MarkRow, longerOf, within } from './photo_marks';
import { Result } from './photo_result';
import { PhotoUse } from './photo_use';

interface SampleRow {
  id: string;
  color_hex?: string;
  document?: { items?: { paint: string; parts: number }[] };
}
const mixOf = (s: SampleRow, paints: Paint[]) =>
  (s.document?.items ?? [])
    .map((i) => `${i.parts} ${paints.find((p) => p.id === i.paint)?.name ?? i.paint}`)
    .join(', ') || s.id;
interface Shot {
  picture: Picture;
  marks: Mark[];
}
export function PhotoPage() {
  const query = new URLSearchParams(useCell(place).split('?')[1] ?? ''),
    back = askedPlace('back');
  const paints = useAnswer<List<Paint>>('/api/paints?limit=200').data?.rows ?? [],
    samples = useAnswer<List<SampleRow>>('/api/samples').data?.rows ?? [],
    before = useAnswer<List<Picture>>('/api/pictures?kind=sample&limit=6').data?.rows ?? [];
  const [shots, setShots] = useState<Shot[]>([]),
    [at, setAt] = useState(0),
    [kind, setKind] = useState<Kind>('white'),
    [chosen, choose] = useState(-1),
    [busy, setBusy] = useState(''),
    [reading, setReading] = useState<Reading | null>(null),
    [chart, setChart] = useState<Chart | null>(null),
    [inRow, setInRow] = useState(''),
    [corners, setCorners] = useState<Point[]>([]),
    result = useRef<HTMLElement>(null);
  const shot = shots[at],
    longer = shot ? longerOf(shot.picture) : 0;
  const known = [
    ...paints.filter((p) => p.color_hex).map((p) => [`paint:${p.id}`, p.name ?? p.id] as const),
    ...samples.filter((s) => s.color_hex).map((s) => [`sample:${s.id}`, `Sample ${mixOf(s, paints)}`] as const),
  ];
  useEffect(() => {
    if (reading) result.current?.scrollIntoView({ block: 'start' });
  }, [reading]);

  const setMarks = (to: (m: Mark[]) => Mark[]) => {
    setShots((all) => all.map((s, n) => (n === at ? { ...s, marks: to(s.marks) } : s)));
    setReading(null);
  };
  const change = (n: number, to: Partial<Mark>) =>
    setMarks((all) => all.map((m, k) => (k === n ? fit({ ...m, ...to }) : m)));
  const fit = (m: Mark): Mark => within(shot?.picture, m);
  const put = (x: number, y: number) => {
    if (chosen >= 0) {
      change(chosen, { x, y });
      choose(-1);
      return;
    }
    if (kind === 'patch') {
      const all = [...corners, { x, y }];
      if (chart && all.length === CORNERS.length) {
        setMarks((m) => [
          ...m.filter((k) => k.kind !== 'patch'),
          ...chartMarks(chart, Number(inRow) || 6, all).map(fit),
        ]);
        setCorners([]);
        setKind('target');
      } else if (chart) setCorners(all);
      return;
    }
    const same = shot.marks.filter((m) => m.kind === kind).length,
      size = shot.marks[shot.marks.length - 1]?.size ?? longer * 0.06;
    setMarks((all) => [
      ...all,
      fit({ kind, x, y, size, name: same ? `${CALLED[kind]} ${same + 1}` : CALLED[kind] }),
    ]);
    if (kind === 'white' && !same) setKind('target');
  };
  /* The next picture of the same things: the marks are found again by their colors, or come along in
     proportion. */
  const begin = async (p: Picture) => {
    const last = shots[shots.length - 1],
      by = last ? longerOf(p) / longerOf(last.picture) : 1;
    let marks = (last?.marks ?? []).map((m) => ({
      ...m,
      x: m.x * by,
      y: m.y * by,
      size: m.size * by,
    }));
    if (last && marks.length >= 3) {
      setBusy('Finding the marks again.');
      const found = await findAgain(last.picture.id, p.id, last.marks);
      setBusy('');
      say({
        text: found
          ? 'The marks were found again. Look them over.'
          : 'The marks could not be found by their colors. Put them right.',
      });
      marks = found ?? marks;
    }
    setShots((all) => [...all, { picture: p, marks: marks.map((m) => within(p, m)) }]);
    setAt(shots.length);
    setReading(null);
  };
  const take = async (f: File) => {
    say(null); /* what the last one was refused for */
    setBusy('Sending the picture.');
    const o = await sendPicture(f, { kind: 'sample' });
    setBusy('');
    if (!o.ok) say({ text: failureText(o.failure), stop: true });
    else await begin(o.body);
  };
  const again = async (id: string) => {
    const o = await get<Picture>(`/api/pictures/${encodeURIComponent(id)}`);
    if (o.ok) await begin(o.body);
    else say({ text: failureText(o.failure), stop: true });
  };
  const read = async () => {
    const o = await send<Reading>({
      method: 'POST',
      path: '/api/pictures/read',
      body: { shots: shots.map((s) => shotOf(s.picture.id, s.marks)) },
      what: 'A reading',
      keep: false,
      quiet: true,
    });
    if (o.ok) setReading(o.body);
    else say({ text: failureText(o.failure), stop: true });
  };
  const readChart = async (f: File) => {
    const o = await send<Chart>({
      method: 'POST',
      path: '/api/documents/chart',
      body: { chart: await f.text() },
      what: 'A chart',
      keep: false,
      quiet: true,
    });
    if (!o.ok) {
      say({ text: failureText(o.failure), stop: true });
      return;
    }
    setChart(o.body);
    setInRow(String(o.body.in_row ?? 6));
    setCorners([]);
  };
  const marks = shot?.marks ?? [],
    patches = marks.filter((m) => m.kind === 'patch').length,
    wanted = marks.filter((m) => m.kind === 'target').length,
    references = marks.length - wanted,
    bare = marks.some((m) => m.kind === 'chip' && !m.of);
  const missing = !references
    ? 'Mark the white paper, or another thing of known color.'
    : !wanted
      ? 'Mark the thing whose color you want.'
      : bare
        ? 'Say of which paint or sample each chip is.'
        : '';
  return (
    <>
      <div class="head">
        <div>
          <h1>Color from a picture</h1>
          <p>
            {back && <a href={back}>Back</a>}
          </p>
        </div>
      </div>
      {!shot && (
        <section class="stage">
          <header>
            <h2>Take the picture</h2>
          </header>
          <div class="stage-body">
            <p class="say">
              Lay white paper beside it, flat, in the same light: daylight from one window, no lamp,
              no shadow, no flash. Dried chips of your own paints beside it make it surer: six do
              most of what can be done. Fill the picture; nothing may shine.
            </p>
            <div class="acts">
              <Take label="Take a picture" camera got={take} />
              <Take label="Choose one" got={take} />
            </div>
            {before.length > 0 && (
              <div class="before">
                {before.map((p) => (
                  <button type="button" onClick={() => void again(p.id)}>
                    <img src={lookOf(p.id, 160)} alt="A picture from before" />
                  </button>
                ))}
              </div>
            )}
          </div>
        </section>
      )}
      {busy && (
        <p class="say" role="status">
          {busy}
        </p>
      )}
      {shot && (
        <>
          <div class="mark-kinds" role="group" aria-label="What the next tap marks">
            {KINDS.map(([v, text]) => (
              <button
                type="button"
                aria-pressed={v === kind && chosen < 0}
                onClick={() => {
                  setKind(v);
                  choose(-1);
                }}
              >
                {text}
              </button>
            ))}
          </div>
          <p class="say mark-say">
            {chosen >= 0
              ? `Tap where ${marks[chosen]?.name} really is.`
              : kind === 'patch'
                ? chart
                  ? `Tap the middle of the ${CORNERS[corners.length]} patch.`
                  : 'A chart’s colors come with it as a file (CGATS text).'
                : `Tap ${KINDS.find(([v]) => v === kind)?.[2]}; hold to see it large.`}
          </p>
          {kind === 'patch' && chosen < 0 && (
            <div class="form tight chart-form">
              <div class="acts">
                <Take
                  label={chart ? `${chart.patches.length} patches` : 'The chart’s file'}
                  accept=".txt,.cgats,.it8,.ti3,.cie,text/plain"
                  got={readChart}
                />
              </div>
              {chart && (
                <Field
                  label="Patches in a row"
                  inputMode="numeric"
                  value={inRow}
                  onInput={(e) => setInRow(e.currentTarget.value)}
                />
              )}
            </div>
          )}
          <Marks
            picture={shot.picture}
            marks={marks}
            chosen={chosen}
            size={marks[chosen]?.size ?? marks[marks.length - 1]?.size ?? longer * 0.06}
            put={put}
            choose={(n) => choose(n === chosen ? -1 : n)}
            word={chosen >= 0 ? (marks[chosen]?.name ?? '') : CALLED[kind]}
          />
          <p class="k">
            {shots.length > 1 ? `Picture ${at + 1} of ${shots.length}. ` : ''}
            {shot.picture.format}, {shot.picture.width} × {shot.picture.height},{' '}
            {shot.picture.profile}. {shot.picture.odd}
          </p>
          {marks.length > 0 && (
            <ul class="mark-rows">
              {marks.map((m, n) => m.kind !== 'patch' && (
                <MarkRow
                  m={m}
                  n={n}
                  here={n === chosen}
                  known={known}
                  change={(to) => change(n, to)}
                  drop={() => {
                    setMarks((all) => all.filter((_, k) => k !== n));
                    choose(-1);
                  }}
                  choose={() => choose(n === chosen ? -1 : n)}
                />
              ))}
              {patches > 0 && (
                <li class="mark-row">
                  <div class="mark-who">
                    Chart, {patches} {patches === 1 ? 'patch' : 'patches'}
                  </div>
                  <span class="steps">
                    <button
                      type="button"
                      aria-label="Take the chart away"
                      onClick={() => setMarks((all) => all.filter((m) => m.kind !== 'patch'))}
                    >
                      ×
                    </button>
                  </span>
                </li>
              )}
            </ul>
          )}
          {missing && <p class="say">{missing}</p>}
          <div class="acts">
            <Act kind="btn main" disabled={!!missing} run={read}>
              Read the color
            </Act>
            {reading && <Take label="One more picture of it" got={take} />}
            {shots.length > 1 &&
              shots.map((_, n) => (
                <button
                  type="button"
                  class="btn"
                  aria-pressed={n === at}
                  onClick={() => {
                    setAt(n);
                    choose(-1);
                  }}
                >
                  Picture {n + 1}
                </button>
              ))}
          </div>
        </>
      )}
      {reading && (
        <section class="part-h" ref={result} aria-label="What was read">
          <PhotoUse reading={reading} query={query} />
          <Result reading={reading} />
          <p class="k gap">
            {reading.shots > 1
              ? `Mean of ${reading.shots} pictures. `
              : 'A second picture from another place makes it surer. '}
            How sure this is was found with simulated cameras and lights; a phone that brightens
            parts of a picture by itself can be further off.
          </p>
        </section>
      )}
    </>
  );
}
