/* What stands around every page: five words, the shop's air, what is unsent, the grounds. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { embeddedJob, reachable } from '../net/api';
import { flush, forget, unsent } from '../net/queue';
import { useAnswer, useCell } from '../net/use';
import type { Shop, Units } from '../net/types';
import { place } from '../lib/router';
import { ground, surround, units as chosen, type Tone } from '../lib/settings';
import { clockText, nowMinutes, setZone, shortDay } from '../lib/time';
import { quantity } from '../lib/quantity';
import { Seg } from './controls';
import { SaidLine, failureText } from './said';

const WORDS = [
  ['/today', 'Today'],
  ['/pieces', 'Pieces'],
  ['/color', 'Color'],
  ['/shelf', 'Shelf'],
  ['/shop', 'Shop'],
] as const;
const MORE = [
  ['/days', 'Days'],
  ['/clients', 'Clients'],
  ['/money', 'Money'],
] as const;
const TONES: readonly (readonly [Tone, string])[] = [
  ['light', 'Light'],
  ['mid', 'Middle'],
  ['dark', 'Dark'],
];

export function useShop(): { shop: Shop; units: Units } {
  const shop = (useAnswer<{ shop?: Shop } & Shop>(embeddedJob ? null : '/api/shop').data ?? {}) as {
    shop?: Shop;
  } & Shop;
  const own = shop.shop ?? shop;
  const units = (useCell(chosen) || own.units || 'us') as Units;
  setZone(own.zone, units === 'metric');
  return { shop: own, units };
}

function useNow(): number {
  const [now, set] = useState(nowMinutes());
  useEffect(() => {
    const t = setInterval(() => set(nowMinutes()), 15000);
    return () => clearInterval(t);
  }, []);
  return now;
}

function Air({ shop, units }: { shop: Shop; units: Units }) {
  const now = useNow();
  const air = [
    shop.day_temperature_degc !== undefined
      ? quantity(shop.day_temperature_degc, 'temperature', units)
      : '',
    shop.humidity_frac !== undefined ? `${Math.round(shop.humidity_frac * 100)} %` : '',
  ]
    .filter(Boolean)
    .join(', ');
  return (
    <p class="air">
      <span>
        {shortDay(now)}, <b>{clockText(now)}</b>
      </span>
      {air && (
        <span>
          {' '}
          Shop <b>{air}</b>
        </span>
      )}
    </p>
  );
}

function Unsent() {
  const rows = useCell(unsent),
    there = useCell(reachable);
  if (there && !rows.length) return null;
  return (
    <section class="unsent" aria-label="Connection">
      {!there && (
        <p>
          <b>No connection.</b> What is shown is the last that was read. What you do is kept and
          sent later.
        </p>
      )}
      {rows.length > 0 && (
        <ul>
          {rows.map((u) => (
            <li key={u.key}>
              <span>
                <b>{u.refused ? 'Not taken' : 'Unsent'}</b> {u.what}
                {u.refused ? `: ${failureText(u.refused)}` : ''}
              </span>
              {u.refused ? (
                <button class="btn" onClick={() => void forget(u)}>
                  Put away
                </button>
              ) : null}
            </li>
          ))}
        </ul>
      )}
      {rows.some((u) => !u.refused) && (
        <button class="btn" onClick={() => void flush()}>
          Send now
        </button>
      )}
    </section>
  );
}

export function Frame({ children }: { children: ComponentChildren }) {
  const at = useCell(place),
    { shop, units } = useShop();
  /* a batch and a color read from a picture are reached from Color and belong to it */
  const of = at.replace(/^\/(batches|photo)/, '/color').split('?')[0],
    here = (path: string) => of.startsWith(path);
  const link = ([path, word]: readonly [string, string], cls?: string) => (
    <a href={path} class={cls} aria-current={here(path) ? 'page' : undefined}>
      {word}
    </a>
  );
  return (
    <>
      <a class="skip" href="#main">
        To the work
      </a>
      <header class="top">
        {embeddedJob ? (
          <nav aria-label="Pages">
            <a href="/" aria-current="page">
              Job sheet
            </a>
          </nav>
        ) : (
          <nav aria-label="Pages">
            {WORDS.map((w) => link(w))}
            {MORE.map((w) => link(w, 'lg'))}
          </nav>
        )}
        <Air shop={shop} units={units} />
      </header>
      <Unsent />
      <main id="main" tabIndex={-1}>
        {children}
      </main>
      <footer class="foot">
        {!embeddedJob && (
          <nav class="sm more" aria-label="More pages">
            {MORE.map((w) => link(w))}
          </nav>
        )}
        <div class="foot-sets">
          <Seg
            label="Units"
            value={units}
            options={[
              ['us', 'Inches'],
              ['metric', 'Metric'],
            ]}
            set={(v) => chosen.set(v)}
          />
          <Seg label="Ground" value={useCell(ground)} options={TONES} set={(v) => ground.set(v)} />
          <Seg
            label="Around colors"
            value={useCell(surround)}
            options={TONES}
            set={(v) => surround.set(v)}
          />
        </div>
        <p class="say">
          Cautions here do not replace local rules, the label of the product, or licensed practice.
        </p>
      </footer>
      <SaidLine />
    </>
  );
}
