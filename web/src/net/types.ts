/* What the server sends, as the field tables in codec/ describe it: keys are the C members with their
 * suffixes, enums are words, instants are minutes since 1970 UTC, unsaid members are absent. */

export interface ColorSaid {
  text?: string;
  lab?: number[];
  hex?: string;
}
export type Rank = 'note' | 'mind' | 'stop';
export interface Notice {
  rank?: Rank;
  topic?: string;
  text?: string;
  remedy?: string;
  blocks?: string;
  signs?: string;
  source?: string;
  certainty?: string;
}
export interface BasisInput {
  name?: string;
  text?: string;
  value?: number;
  unit?: string;
}
export interface Basis {
  inputs?: BasisInput[];
  rule?: string;
  source?: string;
  cited?: string;
  certainty?: string;
  low?: number;
  high?: number;
  unit?: string;
}
export interface Assumption {
  pointer: string;
  text?: string;
  value?: number;
  unit?: string;
  why?: string;
  source?: string;
}

/* ---- the readable sheet: app/sheet/sheet.h ---- */

export type SheetKind = 'row' | 'step' | 'note' | 'mind' | 'stop' | 'text' | 'head';
export interface SheetRow {
  kind?: SheetKind;
  figure?: string;
  what?: string;
  detail?: string;
  known?: string;
  assumed?: boolean;
  pointer?: string;
  swatch?: string;
  number?: number;
  task?: string;
}
export interface SheetSection {
  id: string;
  title?: string;
  intro?: string;
  rows?: SheetRow[];
}
export interface SheetPiece {
  id: string;
  title?: string;
  summary?: SheetRow[];
  sections?: SheetSection[];
}
export interface Sheet {
  title?: string;
  units?: Units;
  summary?: SheetRow[];
  pieces?: SheetPiece[];
}
export type Units = 'us' | 'metric';

/* ---- the plan: core/work/plan.h ---- */

export interface Part {
  id: string;
  name?: string;
  group?: string;
  shape?: string;
  a_mm?: number;
  b_mm?: number;
  c_mm?: number;
  d_mm?: number;
  e_mm?: number;
  f_mm?: number;
  count?: number;
  faces?: string;
  profile?: string;
  treatment?: string;
  product?: string;
  clear?: string;
  material?: string;
  color?: ColorSaid;
  removable?: boolean;
}
export interface Surface {
  part: Part;
  each_m2?: number;
  coated_m2?: number;
  clear_m2?: number;
  bare_m2?: number;
  masked_m2?: number;
  sealed_m2?: number;
}
export interface Piece {
  fittings?: {
    pulls?: { new_spacing_mm?: number };
    panels?: { kind?: string; width_mm?: number; height_mm?: number; count?: number }[];
  };
  id?: string;
  title?: string;
  template?: string;
  width_mm?: number;
  depth_mm?: number;
  height_mm?: number;
  thickness_mm?: number;
  bow_mm?: number;
  drawers?: number;
  doors?: number;
  shelves?: number;
  slats?: number;
  legs?: number;
  count?: number;
  leg_mm?: number;
  opening_mm?: number;
  year?: number;
  wood?: string;
  finish?: string;
  now_color?: ColorSaid;
  agreement?: {
    due_day?: number;
    client?: string;
    purpose?: string;
    use?: string;
    agreed?: string[];
    excluded?: string[];
    deposit_cent?: number;
    quoted_cent?: number;
    storage_fee_cent?: number;
    seen_day?: number;
    collect_day?: number;
    marks?: string[];
    sample_signed?: boolean;
    sample_expected_day?: number;
  };
  wanted?: {
    color?: ColorSaid;
    top?: string;
    paints_max?: number;
    parts?: number;
  product?: string;
  };
  tests?: Record<string, unknown>;
}
export interface Coat {
  id: string;
  group?: string;
  role?: string;
  operation?: string;
  product?: string;
  class?: string;
  coats?: number;
  verdict?: string;
  text?: string;
  why?: string;
  film_um?: number;
}
export interface RecipeLine {
  paint?: string;
  name?: string;
  parts?: number;
  volume_ml?: number;
}
export interface ColorPlan {
  target?: ColorSaid;
  product?: string;
  batch?: string;
  lines?: RecipeLine[];
  parts?: number;
  lab?: number[];
  difference?: number;
  expected_difference?: number;
  difference_90?: number;
  proven?: boolean;
  bound?: number;
  notices?: Notice[];
}
export interface Amount {
  product?: string;
  name?: string;
  class?: string;
  role?: string;
  coats?: number;
  area_m2?: number;
  need_ml?: number;
  low_ml?: number;
  high_ml?: number;
  mixed_ml?: number;
  mix_ml?: number;
  stock_ml?: number;
  buy_ml?: number;
  cans?: number;
  left_ml?: number;
  cost_cent?: number;
}
export interface DayTask {
  piece_title?: string;
  id: string;
  piece?: string;
  group?: string;
  name?: string;
  operation?: string;
  promised_utc_min?: number; /* start that was accepted */
  person?: string;
  who?: string; /* the same, by public name */
  stack_utc_min?: number; /* hard enough to be stacked */
  stack_how?: string;
  hands_min?: number;
  start_utc_min?: number;
  end_utc_min?: number;
  dry_until_utc_min?: number;
  window_end_utc_min?: number;
  pauses?: boolean; /* at a break or over night */
  setup_min?: number; /* getting ready, before the start */
  cleanup_min?: number;
  extra_min?: number; /* scuffing or mixing anew, in front of it */
  held_by?: string;
  note?: string;
  state?: string;
  begun_utc_min?: number;
  done_utc_min?: number;
  took_min?: number;
}
export interface Days {
  rows?: DayTask[];
  handle_utc_min?: number;
  deliver_utc_min?: number;
  load_utc_min?: number;
  blocked_by?: string;
  proven?: boolean;
  gap_frac?: number;
  shared_n?: number; /* coats that go on with a wet tool */
  saved_min?: number;
  gates?: Notice[];
  dew_degc?: number;
}
export interface Price {
  rows?: { id?: string; name?: string; hours?: number; cost_cent?: number }[];
  hours?: number;
  cost_cent?: number;
  price_cent?: number;
  deposit_cent?: number;
  minimum_cent?: number;
  hour_cent_per_h?: number;
  work?: string[]; /* what the client is promised */
  excluded?: string[]; /* what is not part of it */
  terms?: string; /* one a line */
  notices?: Notice[];
}
/* What open work waits for from outside; kind sample: the client's signature on it. */
export interface Outside {
  piece: string;
  title?: string;
  kind: string;
  text?: string;
  expected_day?: number;
  until_utc_min?: number;
}
export interface PiecePlan {
  inspection?: {
    findings?: {
      name?: string;
      verdict?: string;
      detail?: string;
      state?: string;
      source?: string;
    }[];
  };
  id: string;
  title?: string;
  piece: Piece;
  hazards?: { notices?: Notice[]; refused?: boolean; refusal?: string; instead?: string };
  agreement?: Notice[];
  repairs?: { id?: string; text?: string }[];
  coats?: { rows?: Coat[]; refused?: Notice[]; test_board?: boolean };
  surfaces?: {
    rows?: Surface[];
    groups?: { id: string; name?: string; first?: number; n?: number }[];
  };
  color?: ColorPlan;
  colors?: ColorPlan[];
  amounts?: Amount[];
  price?: Price;
  care?: { text?: string; until_utc_min?: number }[];
  handle_utc_min?: number;
  deliver_utc_min?: number;
  cured_utc_min?: number;
  outside?: Pick<Outside, 'kind' | 'expected_day' | 'until_utc_min'>[];
}
export interface PlanAnswer {
  title?: string;
  now_utc_min?: number;
  shop?: Shop;
  pieces?: PiecePlan[];
  days?: Days;
  settle?: Notice[];
  assumed?: Assumption[];
  basis?: Record<string, Basis>;
  sheet?: Sheet;
}

/* ---- the book ---- */

export interface ShopHours {
  day?: string;
  open_min?: number;
  close_min?: number;
}
export interface Shop {
  name?: string;
  zone?: string;
  units?: Units;
  hours?: ShopHours[];
  days_off?: string[];
  people?: number;
  crew?: { id: string; name?: string }[];
  rate_cent_per_h?: number;
  overhead_frac?: number;
  margin_frac?: number;
  sale_fee_frac?: number;
  deposit_frac?: number;
  minimum_cent?: number;
  day_temperature_degc?: number;
  night_temperature_degc?: number;
  humidity_frac?: number;
  drying_area_m2?: number;
  measure?: string;
  smallest_ml?: number;
  tools?: string[];
}
/* A document as it was typed: plain keys, texts with units. */
export type Doc = { [key: string]: unknown };

export interface PieceRow {
  id: string;
  title?: string;
  template?: string;
  stage?: string;
  client?: string;
  client_name?: string;
  due_day?: number;
  width_mm?: number;
  depth_mm?: number;
  height_mm?: number;
  shown_hex?: string;
  finish?: string;
  document?: Doc;
  next_step?: string;
  price_cent?: number;
  hours?: number;
  ready_utc_min?: number;
  blocked_by?: string;
}
export interface List<T> {
  rows?: T[];
  next?: string | null;
}

/* Price and payments of an open piece. */
export interface OwedRow {
  id: string;
  title?: string;
  client_name?: string;
  price_cent?: number;
  price_is?: string;
  paid_cent?: number;
  to_come_cent?: number;
  unbooked_cent?: number;
  hours?: number;
}
