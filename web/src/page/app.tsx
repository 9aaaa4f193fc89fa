import { useEffect } from 'preact/hooks';
import { embeddedJob } from '../net/api';
import { useCell } from '../net/use';
import type { PlanAnswer } from '../net/types';
import { place } from '../lib/router';
import { Frame } from '../ui/frame';
import { Today } from './today';
import { Pieces } from './pieces';
import { NewPiece } from './new';
import { JobSheet, PiecePage } from './piece';
import { ColorPage } from './color';
import { Shelf } from './shelf';
import { Clients } from './clients';
import { Money } from './money';
import { DaysPage } from './days';
import { ShopPage } from './shop';
import { BatchPage } from './batch';
import { WorthPage } from './worth';

function page(path: string) {
  const [, first, second] = path.split('?')[0].split('/').map(decodeURIComponent);
  if (embeddedJob) return <JobSheet plan={embeddedJob as PlanAnswer} />;
  switch (first) {
    case '':
    case 'today':
      return <Today />;
    case 'pieces':
      return second === 'new' ? (
        <NewPiece />
      ) : second === 'worth' ? (
        <WorthPage />
      ) : second ? (
        <PiecePage id={second} key={second} />
      ) : (
        <Pieces />
      );
    case 'color':
      return <ColorPage piece={second} key={second} />;
    case 'batches':
      return second ? <BatchPage id={second} key={second} /> : <ColorPage />;
    case 'shelf':
      return <Shelf />;
    case 'clients':
      return <Clients chosen={second} key={second} />;
    case 'money':
      return <Money />;
    case 'days':
      return <DaysPage />;
    case 'shop':
      return <ShopPage />;
    default:
      return (
        <>
          <div class="head">
            <div>
              <h1>Nothing stands here</h1>
              <p>
                There is no page at this address. <a href="/today">Today’s work</a>
              </p>
            </div>
          </div>
        </>
      );
  }
}
export function App() {
  const path = useCell(place);
  useEffect(() => {
    const h = document.querySelector('h1');
    document.title = h?.textContent ? `${h.textContent} · Coatwright` : 'Coatwright';
  });
  return <Frame>{page(path)}</Frame>;
}
