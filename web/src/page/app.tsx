import { useEffect } from 'preact/hooks';
import { embeddedJob } from '../net/api';
import { useCell } from '../net/use';
import type { PlanAnswer } from '../net/types';
import { place } from '../lib/router';
import { inUnits } from '../lib/settings';
import { keepFoot } from '../paper/foot';
import { Bases } from '../ui/figure';
import { Frame, useShop } from '../ui/frame';
import { useBookBases } from './bases';
import { Today } from './today';
import { Pieces } from './pieces';
import { JobSheet } from './job_sheet';
import { PiecePage } from './piece';
import { DaysPage } from './days';
import { Later } from './later';

/* What a page of the second script begins with, word for word as it asks. */
const PAINTS = '/api/paints?limit=200',
  CHOICES = '/api/choices',
  KNOWN = '/api/shelf/known';
const money = () => {
  const y = new Date().getFullYear();
  return [
    ...['/api/money/open', '/api/money/pieces', '/api/money', '/api/pieces', '/api/learned'],
    ...[`/api/books?from=${y}-01-01&to=${y}-12-31`, '/api/callbacks', '/api/records', CHOICES],
  ];
};
function page(path: string) {
  const [, first, second] = path.split('?')[0].split('/').map(decodeURIComponent);
  if (embeddedJob) return <JobSheet plan={embeddedJob as PlanAnswer} />;
  switch (first) {
    case '':
    case 'today':
      return <Today />;
    case 'pieces':
      return second === 'new' ? (
        <Later key="NewPiece" asks={[CHOICES, '/api/pieces']} of={(r) => <r.NewPiece />} />
      ) : second === 'worth' ? (
        <Later key="WorthPage" asks={[CHOICES]} of={(r) => <r.WorthPage />} />
      ) : second ? (
        <PiecePage id={second} key={second} />
      ) : (
        <Pieces />
      );
    case 'color':
      return (
        <Later
          key={`ColorPage ${second}`}
          asks={[PAINTS, KNOWN, ...(second ? [inUnits(`/api/pieces/${second}/plan`)] : [])]}
          of={(r) => <r.ColorPage piece={second} />}
        />
      );
    case 'batches':
      return second ? (
        <Later key={`BatchPage ${second}`} of={(r) => <r.BatchPage id={second} />} />
      ) : (
        <Later key="ColorPage" of={(r) => <r.ColorPage />} />
      );
    case 'photo':
      return <Later key="PhotoPage" asks={[PAINTS, '/api/pictures?kind=sample&limit=6']} of={(r) => <r.PhotoPage />} />;
    case 'shelf':
      return (
        <Later
          key="Shelf"
          asks={[PAINTS, KNOWN, CHOICES, '/api/supplies', '/api/samples?limit=500']}
          of={(r) => <r.Shelf />}
        />
      );
    case 'clients':
      return (
        <Later
          key={`Clients ${second}`}
          asks={
            second
              ? [`/api/clients/${second}`, `/api/pieces?client=${second}`]
              : ['/api/clients', '/api/pieces?stage=open']
          }
          of={(r) => <r.Clients chosen={second} />}
        />
      );
    case 'money':
      return <Later key="Money" asks={money()} of={(r) => <r.Money />} />;
    case 'days':
      return <DaysPage />;
    case 'shop':
      return <Later key="ShopPage" asks={['/api/shop', CHOICES, '/api/backups']} of={(r) => <r.ShopPage />} />;
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
  useEffect(keepFoot, []);
  const bases = useBookBases(useShop().units);
  return (
    <Frame>
      <Bases.Provider value={bases}>{page(path)}</Bases.Provider>
    </Frame>
  );
}
