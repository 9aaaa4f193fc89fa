/* What may be said of a piece: the members of its document with a label and how they are written.
 * Words are those of the published schema. */
import type { Measured } from '../lib/bare';

export type Kind = 'text' | 'long' | 'int' | 'yes' | 'word' | 'choice' | 'color' | 'day' | 'lines';
export interface FieldSpec {
  path: string;
  label: string;
  kind: Kind;
  words?: string[];
  from?: 'templates' | 'finishes' | 'woods' | 'classes' | 'methods' | 'effects';
  help?: string; /* stays below the field */
  example?: string; /* stands there while the field is empty */
  list?: string; /* the datalist of names that are known */
  in?: Measured; /* what a bare number is meant in */
  roles?: string[]; /* of classes of product: only these */
  more?: [string, string][]; /* choices besides those of the list */
}
const f = (
  path: string,
  label: string,
  kind: Kind = 'text',
  more: Partial<FieldSpec> = {},
): FieldSpec => ({ path, label, kind, ...more });
const long = (path: string, label: string, example?: string) =>
  f(path, label, 'text', { in: 'length', example });
const paid = (path: string, label: string, example?: string) =>
  f(path, label, 'text', { in: 'money', example });
const w = (path: string, label: string, words: string, help?: string) =>
  f(path, label, 'word', { words: words.split('|'), help });
export const SHEENS = 'flat|velvet|eggshell|satin|semigloss|gloss|high gloss';

export const WHAT: FieldSpec[] = [
  f('title', 'What to call it'),
  f('template', 'What it is', 'choice', { from: 'templates' }),
  long('width', 'Width', '36 in, 2\' 6-1/2" or 830 mm'),
  long('depth', 'Depth'),
  long('height', 'Height'),
  long('thickness', 'Thickness of the boards'),
  f('drawers', 'Drawers', 'int'),
  f('doors', 'Doors', 'int'),
  f('shelves', 'Shelves', 'int'),
  f('slats', 'Slats', 'int'),
  f('legs', 'Legs', 'int'),
  long('leg', 'Leg'),
  long('opening', 'Opening'),
  long('bow', 'Bow of the front'),
  w('seat', 'Seat', 'wood|woven|upholstered', 'A woven one is masked, a stuffed one comes off.'),
  f('count', 'How many alike', 'int'),
  f('year', 'Made about', 'int'),
  f('wood', 'Wood', 'choice', { from: 'woods' }),
  f('veneer', 'Veneered', 'yes'),
  long('veneer_thickness', 'Thickness of the veneer'),
  w('place', 'Where it will stand', 'indoor|kitchen|bath|outdoor'),
  f('child', 'For a child', 'yes'),
  f('drop_side', 'Drop side', 'yes'),
  long('slat_gap', 'Widest gap between slats'),
  f('note', 'Note', 'long'),
];
export const ON_IT: FieldSpec[] = [
  f('finish', 'What is on it', 'choice', { from: 'finishes' }),
  w('condition', 'Condition', 'sound|worn|damaged|flaking'),
  f('knots', 'Knots', 'yes'),
  f('now_color', 'What it looks like now', 'color'),
];
export const TESTS: FieldSpec[] = [
  w(
    'tests.lead',
    'Lead',
    'waiting|kit negative|kit positive|lab negative|lab positive|xrf negative|xrf positive',
    'A kit alone does not clear old paint.',
  ),
  w('tests.wax_wipe', 'Mineral spirits on white cloth', 'clean|greasy'),
  w('tests.water_drop', 'A drop of water', 'beads|soaks'),
  w('tests.alcohol', 'Alcohol', 'nothing|softens|dissolves'),
  w('tests.thinner', 'Lacquer thinner', 'nothing|softens|dissolves'),
  w('tests.xylene', 'Xylene', 'nothing|softens|dissolves'),
  w('tests.rag', 'Damp rag', 'clean|brown|red'),
  f('tests.dye_lifts', 'Does alcohol lift the red', 'yes'),
  f('tests.spot_cleaned', 'Solvents tried where wax was taken off', 'yes'),
  f('tests.tape_removed', 'Tape test: area pulled off', 'text', { example: '5 %', in: 'share' }),
  f('tests.moisture', 'Moisture of the wood', 'text', { example: '9 %', in: 'share' }),
  f('tests.moisture_at', 'Temperature of the wood then', 'text', { example: '66 °F', in: 'temperature' }),
  w('tests.smell', 'Smell', 'none|smoke|urine|musty'),
  w('tests.mold', 'Mold', 'none|surface|deep'),
  w('tests.pests', 'Pests', 'none|old holes|live borer|bedbugs'),
  w('tests.patch', 'Bleeding patch, 48 h', 'passed|failed'),
  w('tests.test_board', 'Test board', 'passed|failed'),
  f('tests.lead_content', 'Lead by weight, as the laboratory wrote', 'text', { example: '0.05 %' }),
  f('tests.film', 'Thickness of the old film'),
];
/* Said by a tap alone, so in no form. */
const TAPPED: FieldSpec[] = [f('tests.skipped', 'Tests skipped', 'lines')];
export const WANTED: FieldSpec[] = [
  f('wanted.color', 'Color wanted', 'color'),
  w('wanted.top', 'Top', 'painted|natural|stained|waxed|oiled'),
  f('wanted.product', 'Paint or class for the color', 'choice', { from: 'classes' }),
  f('wanted.clear', 'Clear', 'choice', {
    from: 'classes',
    roles: ['clear', 'wax'],
    more: [['none', 'None']],
  }),
  f('wanted.primer', 'Primer', 'choice', { from: 'classes', roles: ['primer', 'barrier'] }),
  w('wanted.sheen', 'Sheen', SHEENS),
  f('wanted.method', 'How it is put on', 'choice', { from: 'methods' }),
  f('wanted.color_coats', 'Color coats', 'int'),
  f('wanted.clear_coats', 'Clear coats', 'int'),
  f('wanted.paints_max', 'Paints in the recipe, at most', 'int'),
  f('wanted.parts', 'Parts in the recipe', 'int'),
];
export const AGREED: FieldSpec[] = [
  w('agreement.purpose', 'For', 'client|sale|own'),
  f('agreement.client', 'Client', 'text', { list: 'clients', help: 'A new name is entered as a client.' }),
  f('agreement.use', 'What it will be used for'),
  f('agreement.marks', 'Condition when it came, one mark a line', 'lines'),
  f('agreement.seen', 'Condition written down on', 'day'),
  f('agreement.due', 'Due', 'day'),
  f('agreement.collect', 'Fetched on', 'day'),
  paid('agreement.storage_fee', 'Storage, each week after that', '$20'),
  f('agreement.signed', 'Signed', 'day'),
  paid('agreement.quoted', 'Quoted', '$640'),
  paid('agreement.deposit', 'Deposit paid'),
  f('agreement.listed', 'Offered for sale since', 'day'),
  paid('agreement.bought', 'Bought for'),
  paid('agreement.asking', 'Asking price when done'),
  f('agreement.sample_signed', 'Sample signed', 'yes'),
  f('agreement.sample_expected', 'Sample will be signed', 'day'),
  f('agreement.agreed', 'Agreed, one a line', 'lines'),
  f('agreement.excluded', 'Not part of the work, one a line', 'lines'),
];
export const PULLS: FieldSpec[] = [
  f('fittings.pulls.count', 'Pulls in all', 'int'),
  f('fittings.pulls.holes', 'Holes of one', 'int', { help: '1 knob, 2 pull' }),
  long('fittings.pulls.old_spacing', 'Old holes, center to center'),
  long('fittings.pulls.new_spacing', 'New holes, center to center'),
  long('fittings.pulls.front_thickness', 'Thickness of the front'),
  long('fittings.pulls.hole', 'Diameter of the old hole'),
  long('fittings.pulls.screw_gauge', 'Diameter of the screw'),
  long('fittings.pulls.backplate', 'Width a backplate covers'),
  f('fittings.metal', 'Metal of the old hardware', 'text', {
    help: 'brass, bronze, copper, steel, iron, plated, zinc, pewter or painted',
  }),
  long('fittings.back_thickness', 'Back panel to be nailed on: thickness'),
  long('fittings.back_depth', 'Wood behind that panel'),
  f('fittings.anchor', 'Anchored against tipping', 'yes'),
];
const ALL = [...WHAT, ...ON_IT, ...TESTS, ...TAPPED, ...WANTED, ...AGREED, ...PULLS];
/* An item of a list is called as its list is. */
export function specOf(item: string): FieldSpec {
  const path = item.replace(/(\.\d+)+$/, '');
  return (
    ALL.find((s) => s.path === path) ?? f(path, path.split('.').pop()?.replace(/_/g, ' ') ?? path)
  );
}
