import type { Metadata, Viewport } from 'next';
import { headers } from 'next/headers';
import type { ReactNode } from 'react';
import '@/lib/ui/styles/index.css';

export const metadata: Metadata = {
  title: { default: 'Fettlebook', template: '%s · Fettlebook' },
  description: 'A workshop notebook for people who keep coin-operated machines alive.',
  icons: { icon: '/icon.svg', apple: '/icons/icon-180.png' },
};
export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#f8f2e5' },
    { media: '(prefers-color-scheme: dark)', color: '#1e2122' },
  ],
};
export const dynamic = 'force-dynamic';

export default async function RootLayout({ children }: { children: ReactNode }) {
  const nonce = (await headers()).get('x-nonce') ?? undefined;
  return (
    <html lang="en">
      <body>
        {children}
        <script src="/enhance.js" defer data-keep="" nonce={nonce} />
      </body>
    </html>
  );
}
