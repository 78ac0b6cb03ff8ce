import './elements/taptrue-page.ts';
