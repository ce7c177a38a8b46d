import '@fontsource-variable/figtree/wght.css';
import '@fontsource-variable/newsreader/opsz.css';
import './interface/base.css';
import './interface/parts/parts.css';
import { createRoot } from 'react-dom/client';
import { App } from './interface/app.tsx';
import { speakAsAsked } from './interface/language.ts';

void speakAsAsked().then(() => createRoot(document.getElementById('root')!).render(<App />));
