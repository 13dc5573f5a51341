import type { MetadataRoute } from 'next';

/** Makes the notebook installable. Its icons are served by scripts/server.ts. */
export default function manifest(): MetadataRoute.Manifest {
  return {
    name: 'Fettlebook',
    short_name: 'Fettlebook',
    description: 'A workshop notebook for people who keep coin-operated machines alive.',
    id: '/',
    start_url: '/',
    display: 'standalone',
    background_color: '#f8f2e5',
    theme_color: '#f8f2e5',
    icons: [
      { src: '/icons/icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: '/icons/icon-512.png', sizes: '512x512', type: 'image/png' },
      { src: '/icons/maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
    ],
  };
}
