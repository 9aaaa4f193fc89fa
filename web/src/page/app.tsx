import { useEffect } from 'preact/hooks';
import { embeddedJob } from '../net/api';
import { useCell } from '../net/use';
import type { PlanAnswer } from '../net/types';
import { place } from '../lib/router';
import { Frame } from '../ui/frame';
import { Today } from './today';
import { Pieces } from './pieces';
import { JobSheet } from './job_sheet';
import { PiecePage } from './piece';
import { DaysPage } from './days';
import { Later } from './later';

function page(path: string) {
  const [, first, second] = path.split('?')[0].split('/').map(decodeURIComponent);
  if (embeddedJob) return <JobSheet plan={embeddedJob as PlanAnswer} />;
  switch (first) {
    case '':
    case 'today':
      return <Today />;
    case 'pieces':
      return second === 'new' ? (
        <Later key="NewPiece" of={(r) => <r.NewPiece />} />
      ) : second === 'worth' ? (
        <Later key="WorthPage" of={(r) => <r.WorthPage />} />
      ) : second ? (
        <PiecePage id={second} key={second} />
      ) : (
        <Pieces />
      );
    case 'color':
      return <Later key={`ColorPage ${second}`} of={(r) => <r.ColorPage piece={second} />} />;
    case 'batches':
      return second ? (
        <Later key={`BatchPage ${second}`} of={(r) => <r.BatchPage id={second} />} />
      ) : (
        <Later key="ColorPage" of={(r) => <r.ColorPage />} />
      );
    case 'photo':
      return <Later key="PhotoPage" of={(r) => <r.PhotoPage />} />;
    case 'shelf':
      return <Later key="Shelf" of={(r) => <r.Shelf />} />;
    case 'clients':
      return <Later key={`Clients ${second}`} of={(r) => <r.Clients chosen={second} />} />;
    case 'money':
      return <Later key="Money" of={(r) => <r.Money />} />;
    case 'days':
      return <DaysPage />;
    case 'shop':
      return <Later key="ShopPage" of={(r) => <r.ShopPage />} />;
    default:
      return (
        <div class="head">
          <div>
            <h1>Nothing stands here</h1>
            <p>
              There is no page at this address. <a href="/today">Today’s work</a>
            </p>
          </div>
        </div>
      );
  }
}
export function App() {
  const path = useCell(place);
  useEffect(() => {
    const entitle = () => {
      const h = document.querySelector('h1')?.textContent,
        title = h ? `${h} · Coatwright` : 'Coatwright';
      if (document.title !== title) document.title = title;
    };
    const watch = new MutationObserver(entitle);
    watch.observe(document.getElementById('app') as HTMLElement, { childList: true, subtree: true });
    entitle();
    return () => watch.disconnect();
  }, []);
  return <Frame>{page(path)}</Frame>;
}
