import type { LinkConfig, LinkName, SettingsSection } from '@taptrue/protocol';
import type { OpenSerial } from '../devices/transport/maker-for.ts';

export interface ServiceOptions {
  name: string;
  dataFolder: string;
  /** Simulated devices instead of real ones. Nothing is remembered from a demo. */
  demo: boolean;
  demoSeed?: number;
  /** Addresses that reach the service from elsewhere; empty where it listens to this machine only. */
  addresses: readonly string[];
  /** Opens a serial port; left out: one of this computer. */
  openSerial?: OpenSerial;
  /** Devices named at the start; they win over remembered ones. */
  connect: Partial<Record<LinkName, LinkConfig>>;
  /** What it was set up with, and what of that could not be used. */
  settings?: SettingsSection;
}
