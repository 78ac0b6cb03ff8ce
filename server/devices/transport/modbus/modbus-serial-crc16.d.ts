declare module 'modbus-serial/utils/crc16.js' {
  /** CRC-16/MODBUS; sent low byte first. */
  export default function crc16(bytes: Uint8Array): number;
}
