import '@fontsource-variable/figtree/wght.css';
import '@fontsource-variable/newsreader/opsz.css';
import { createRoot } from 'react-dom/client';
import { App } from './interface/app.tsx';
import './interface/style.css';

createRoot(document.getElementById('root')!).render(<App />);
