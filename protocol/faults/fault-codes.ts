import { CAUTION_FAULTS } from './caution-faults.ts';
import { DEVICE_FAULTS } from './device-faults.ts';
import { MEASURING_FAULTS } from './measuring-faults.ts';
import { PLANNING_FAULTS } from './planning-faults.ts';
import { SAFETY_FAULTS } from './safety-faults.ts';
import { SERVICE_FAULTS } from './service-faults.ts';
import { SET_UP_FAULTS } from './set-up-faults.ts';

/** Every fault and caution a user can meet, by subject; `FAULTS.md` is written from these tables. */
export const FAULT_TABLES = {
  'Devices and their lines': DEVICE_FAULTS,
  Measuring: MEASURING_FAULTS,
  'What a line cannot be trusted for': CAUTION_FAULTS,
  Safety: SAFETY_FAULTS,
  'Other set-ups': SET_UP_FAULTS,
  Planning: PLANNING_FAULTS,
  'Service, screens and record': SERVICE_FAULTS,
} as const;

/** A code that stands in a table: the compiler refuses any other wherever a fault is made. */
export type FaultCode =
  | keyof typeof DEVICE_FAULTS
  | keyof typeof MEASURING_FAULTS
  | keyof typeof CAUTION_FAULTS
  | keyof typeof SAFETY_FAULTS
  | keyof typeof SET_UP_FAULTS
  | keyof typeof PLANNING_FAULTS
  | keyof typeof SERVICE_FAULTS;
