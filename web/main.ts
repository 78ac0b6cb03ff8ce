import './parts/page/taptrue-page.ts';
import { keptTheme, useTheme } from './state/theme.ts';

useTheme(keptTheme());
