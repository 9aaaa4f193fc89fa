/* The second script: pages that are seldom the first to be looked at, and the papers. */
export { Another } from './another';
export { BatchPage } from './batch';
export { WhereItWent } from './books';
export { Clients } from './clients';
export { CameTo, CloseForm } from './closing';
export { ColorPage } from './color';
export { Money } from './money';
export { NewPiece } from './new';
export { PhotoPage } from './photo';
export { Pictures } from './pictures';
export { Shelf } from './shelf';
export { ShopPage } from './shop';
export { WorthPage } from './worth';
export { Papers } from '../paper/papers';
export { ColorOfPiece } from './color/of_piece';
export { Effects, PANELS, REPAIRS, SaidList, SLIDES } from './said_list';
