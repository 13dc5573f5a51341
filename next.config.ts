import type { NextConfig } from 'next';

const config: NextConfig = {
  // One copy of each, shared by the server and by the route handlers that run in the same process.
  serverExternalPackages: [
    'yjs',
    'y-protocols',
    'lib0',
    '@tiptap/y-tiptap',
    'pg',
    'ws',
    'better-auth',
    'drizzle-orm',
    'sharp',
    'pdfkit',
    'qrcode',
    'yazl',
  ],
  poweredByHeader: false,
  reactStrictMode: true,
  devIndicators: false,
};
export default config;
