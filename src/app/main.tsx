// The page's entry: mounts the app. Nothing is decided here.
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';

const place = document.getElementById('app');
if (!place) throw new Error('index.html has no #app');
createRoot(place).render(<App />);
