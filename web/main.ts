import './parts/page/taptrue-page.ts';
