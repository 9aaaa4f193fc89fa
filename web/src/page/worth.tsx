/* Worth buying? Four taps at a flea market: what it is, its condition, what is asked, what it sells
 * for. The answer stands above the questions and moves with every key. */
import { useEffect, useState } from 'preact/hooks';
import { get, send } from '../net/api';
import { named, pairs, useChoices } from '../net/choices';
import type { Assumption, Basis, Doc, Notice, Units } from '../net/types';
import { useHalf } from '../lib/half';
import { go } from '../lib/router';
import { money } from '../lib/quantity';
import { handsText } from '../lib/time';
import { Act, Field, Select } from '../ui/controls';
import { Bases, useFigure } from '../ui/figure';
import { useShop } from '../ui/frame';
import { told } from '../ui/said';
import { Notices } from '../ui/warn';

interface Worth {
  text?: string;
  verdict?: 'take' | 'offer' | 'leave';
  name?: string;
  sale_cent?: number;
  fee_cent?: number;
  supplies_cent?: number;
  delivery_cent?: number;
  hours?: number;
  hours_low?: number;
  hours_high?: number;
  hour_cent_per_h?: number;
  hour_low_cent_per_h?: number;
  hour_high_cent_per_h?: number;
  break_even_cent?: number;
  must_bring_cent?: number;
  offer_cent?: number;
  notices?: Notice[];
  assumed?: Assumption[];
  basis?: Record<string, Basis>;
}
type Said = Record<string, string>;

/* A bare number is meant as a person writes it beside the label: dollars, percent, hours. */
const bare = /^\d+([.,]\d+)?$/;
const written: Record<string, (v: string) => string> = {
  asked: (v) => `$${v}`,
  price: (v) => `$${v}`,
  supplies: (v) => `$${v}`,
  delivery: (v) => `$${v}`,
  pay: (v) => `$${v}/h`,
  fee: (v) => `${v} %`,
  hours: (v) => `${v} h`,
};
function asked(said: Said, units: Units): Said {
  const out: Said = {};
  for (const [k, v] of Object.entries(said)) {
    const t = v.trim().replace(/^\$/, written[k] ? '' : '$');
    if (!t) continue;
    out[k] = bare.test(t)
      ? (written[k]?.(t.replace(',', '.')) ??
        (/^(width|depth|height)$/.test(k) ? `${t} ${units === 'metric' ? 'mm' : 'in'}` : t))
      : t;
  }
  return out;
}
function useWorth(said: Said): { worth?: Worth; text?: string } {
  const [state, set] = useState<{ worth?: Worth; text?: string }>({});
  const key = new URLSearchParams({ ...said, why: 'true' }).toString();
  useEffect(() => {
    if (!said.template) {
      set({});
      return;
    }
    const stop = new AbortController();
    const t = setTimeout(async () => {
      try {
        const o = await get<Worth>(`/api/worth?${key}`, stop.signal);
        set((s) => (o.ok ? { worth: o.body } : { ...s, text: o.failure.text }));
      } catch {
        /* a later key has stopped it */
      }
    }, 150);
    return () => {
      clearTimeout(t);
      stop.abort();
    };
  }, [key]);
  return state;
}

function Line({ what, text, pointer }: { what: string; text: string; pointer: string }) {
  const f = useFigure({ pointer, text });
  return (
    <>
      <div class="row">
        <div class="f">{f.button}</div>
        <div class="w">{what}</div>
      </div>
      {f.panel}
    </>
  );
}
const span = (low: number, high: number) =>
  high - low < 0.05 ? '' : ` (${low.toFixed(0)} to ${high.toFixed(0)})`;
const handsSpan = (low: number, high: number) =>
  high - low < 0.05 ? '' : ` (${handsText(low)} to ${handsText(high)})`;

function Answer({ w }: { w: Worth }) {
  const range =
    w.hour_low_cent_per_h !== undefined && w.hour_high_cent_per_h !== undefined
      ? span(w.hour_low_cent_per_h / 100, w.hour_high_cent_per_h / 100)
      : '';
  return (
    <div class="rows gap">
      {w.hour_cent_per_h !== undefined && (
        <Line
          what="An hour earns"
          text={`${money(Math.round(w.hour_cent_per_h))}${range}`}
          pointer="/hour_cent_per_h"
        />
      )}
      {w.offer_cent !== undefined && (
        <Line
          what={w.offer_cent < 0 ? 'Highest offer: none' : 'Highest offer'}
          text={money(Math.floor(w.offer_cent / 100) * 100)}
          pointer="/offer_cent"
        />
      )}
      {w.must_bring_cent !== undefined && (
        <Line
          what="Must sell for"
          text={money(Math.ceil(w.must_bring_cent / 100) * 100)}
          pointer="/must_bring_cent"
        />
      )}
      {w.break_even_cent !== undefined && (
        <Line
          what="Break-even"
          text={money(Math.ceil(w.break_even_cent / 100) * 100)}
          pointer="/break_even_cent"
        />
      )}
      {w.hours !== undefined && (
        <Line
          what="Hours"
          text={handsText(w.hours) + handsSpan(w.hours_low ?? w.hours, w.hours_high ?? w.hours)}
          pointer="/hours"
        />
      )}
      {w.supplies_cent !== undefined && (
        <Line what="Supplies" text={money(w.supplies_cent)} pointer="/supplies_cent" />
      )}
      {!!w.fee_cent && (
        <Line what="Seller’s fee" text={money(Math.round(w.fee_cent))} pointer="/fee_cent" />
      )}
    </div>
  );
}

export function WorthPage() {
  const choices = useChoices(),
    { shop, units } = useShop();
  const { value: said, set, clear } = useHalf<Said>('worth', {});
  const put = (k: string, v: string) => set((s) => ({ ...s, [k]: v }));
  const question = asked(said, units),
    { worth, text } = useWorth(question);
  const uses = choices.templates?.find((t) => t.id === said.template)?.uses ?? [];
  const condition = choices.conditions?.find((c) => c.id === (said.condition ?? ''));
  const field = (k: string, label: string, example?: string, mode?: 'decimal') => (
    <Field
      label={label}
      value={said[k] ?? ''}
      inputMode={mode}
      example={example}
      onInput={(e) => put(k, e.currentTarget.value)}
    />
  );
  const take = async () => {
    const usual = choices.templates?.find((t) => t.id === said.template)?.usual ?? {};
    const piece: Doc = { ...usual, template: said.template };
    for (const k of ['width', 'depth', 'height', 'drawers', 'doors', 'shelves', 'year'])
      if (question[k]) piece[k] = /^\d+$/.test(question[k]) ? Number(question[k]) : question[k];
    if (said.condition)
      piece.condition = said.condition === 'strip' ? 'flaking' : said.condition;
    piece.agreement = {
      purpose: 'sale',
      ...(question.asked ? { bought: question.asked } : {}),
      ...(question.price ? { asking: question.price } : {}),
    };
    const o = await send<{ id: string }>({
      method: 'POST',
      path: '/api/pieces',
      body: { piece },
      what: `New piece: ${worth?.name ?? said.template}`,
    });
    if (!told(o, { text: 'In the book. Say the color and it is planned.' }) || !o.ok) return;
    clear();
    go(`/pieces/${encodeURIComponent(o.body.id)}`);
  };
  return (
    <Bases.Provider
      value={{ units, find: async (pointer: string) => worth?.basis?.[pointer] }}
    >
      <div class="head worth-head">
        <div aria-live="polite">
          <h1>Worth buying?</h1>
          <p class={(text ?? worth?.text) && 'worth-say'}>
            {text ??
              worth?.text ??
              'Say what it is and how it looks, what is asked and what it sells for.'}
          </p>
        </div>
      </div>
      <div class="form gap">
        <Select
          label="What it is"
          value={said.template ?? ''}
          options={pairs(choices.templates, 'Choose')}
          set={(v) => put('template', v)}
        />
        {field('asked', 'Asked for it', 'Empty: not said yet.', 'decimal')}
        {field('price', 'Sells for when done', 'What such a piece brings here.', 'decimal')}
      </div>
      <div class="gap">
        <p class="k" id="worth-condition">
          Condition
        </p>
        <div class="choices" role="group" aria-labelledby="worth-condition">
          {(choices.conditions ?? []).map((c) => (
            <button
              type="button"
              aria-pressed={c.id === (said.condition ?? 'worn')}
              onClick={() => put('condition', c.id)}
            >
              {named(c)}
            </button>
          ))}
        </div>
        <p class="note gap-s">
          {(condition ?? choices.conditions?.find((c) => c.id === 'worn'))?.text ?? ''}
        </p>
      </div>
      <details class="gap">
        <summary>
          Size, fees, supplies, hours <small class="k">as usual where empty</small>
        </summary>
        <div class="form gap-b">
          {['width', 'depth', 'height', 'drawers', 'doors', 'shelves']
            .filter((m) => uses.includes(m))
            .map((m) => field(m, m.charAt(0).toUpperCase() + m.slice(1)))}
          {field('year', 'Made about', 'Empty: counts as old; lead is possible.')}
          {field('fee', 'Seller’s fee, percent')}
          {field('delivery', 'Fetching and delivering', undefined, 'decimal')}
          {field('supplies', 'Supplies', 'Empty: as planned, at stock cost.', 'decimal')}
          {field('hours', 'Hours', 'Empty: as planned for the condition.', 'decimal')}
          {field(
            'pay',
            'An hour must earn',
            shop.rate_cent_per_h ? `Empty: your rate, ${money(shop.rate_cent_per_h)}.` : undefined,
            'decimal',
          )}
        </div>
      </details>
      {worth && (
        <>
          <Answer w={worth} />
          <div class="gap">
            <Notices rows={worth.notices} />
          </div>
          <div class="acts">
            <Act kind={worth.verdict === 'leave' ? 'btn' : 'btn main'} run={take}>
              Take it: make the piece
            </Act>
            <button type="button" class="btn" onClick={clear}>
              The next one
            </button>
          </div>
        </>
      )}
    </Bases.Provider>
  );
}
