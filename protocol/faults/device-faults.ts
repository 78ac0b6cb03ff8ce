/** Devices and their lines: what each code means and what to do, as a table is printed from it. */
export const DEVICE_FAULTS = {
  'port-no-permission':
    'This user may not open the port. Linux: add the user to the group the message names (often `dialout`), log out and in.',
  'port-busy': 'Another program has it open: close that.',
  'port-not-found': 'There is no such port: plug in, or pick from `taptrue ports`.',
  'other-device':
    "Another device has the port's name now. Plug the first one in again, or connect this one anew and do its nudge.",
  'port-gone': 'Unplugged. Plug in again; it is taken up within two seconds.',
  'port-not-serial': 'The path is not a serial port.',
  'port-setting-refused': 'The adapter cannot do that speed or parity.',
  'find-nothing-came':
    'Nothing came while finding, at any speed, parity or level of DTR and RTS: switched on? set to send? the right port? Let it be asked, or press its key.',
  'find-goes-on': 'A device is being looked for already: stop that search or wait for its end.',
  'find-holds-port': 'A search listens on that port; stop the search, then connect.',
  'find-port-used':
    'A device of this bench is read from that port: let it be closed first, or pick another.',
  'find-not-there': 'Nothing to find on such a source: name a serial port or `tcp://host:port`.',
  'find-not-going-on': 'No search is going on: it was stopped on another screen.',
  'find-no-question': 'The question was answered already.',
  'find-no-power':
    'Nothing came, and the port cannot raise DTR and RTS, which some leads live on: another port or adapter.',
  'find-no-power-seen':
    'Nothing came, and CTS, DSR and DCD stayed off: no power is seen on the interface lines. Lead in at both ends? device on? an adapter that drives all nine pins? A lead with data wires only shows the same and may be silent only.',
  'find-far-end-on':
    'Nothing came, but a status line is on: most likely something at the far end has power. Set it to send, let it be asked, or press its key.',
  'find-lead-sends-back':
    'Nothing came; the status lines go on and off with DTR and RTS: a lead is there, bridged or fed so. Whether the device has power cannot be told.',
  'find-socket-silent':
    'The serial device server takes the connection and says nothing: its own speed and parity, the device behind it.',
  'find-echo':
    'Only what was sent came back: a two-wire lead without its device, or two wires joined.',
  'find-too-much': 'More bytes a second than any measuring device sends: wrong port or address.',
  'find-none-fits':
    'Readings were understood, but the answer to every question was no: another axis, on hold, or a shape to be taught.',
  'find-shape-not-known':
    'Whole lines of text come that no known line shape reads: teach their shape.',
  'find-wrong-parity':
    'Digits come with characters missing between them, with every parity that is tried: look up data bits and parity.',
  'find-fed-by-lines':
    'The lead lives on DTR and RTS and speaks, but is not understood: a shorter lead, or a supply of its own.',
  'find-no-setting-fits':
    'Bytes come that make no lines with any speed and parity: noise on an open lead, or a shape to be taught.',
  'port-failed': 'The system gave an error that is not known here; unplug, plug in, try again.',
  'opening-hangs': 'The port did not open within five seconds: unplug the adapter and plug it in.',
  'connection-refused':
    'The device, its serial device server or its gateway answers, but not on that port number.',
  'connection-timed-out': 'Nothing answers at that address: power, network, address.',
  'connection-lost': 'The connection broke off; it is tried again by itself.',
  'host-not-found': 'The name is not known on this network: spelling, or the numeric address.',
  'setting-not-kept':
    'The value is none for that setting, or the file cannot be written; nothing was changed.',
  'settings-not-read':
    'Part of the settings file is wrong, named by line and field; the usual values hold. Put it right and start anew.',
  'lag-needs-both-ways':
    'Lag and play show only out and back. Sweep out and back slowly, then quickly.',
  'lag-needs-two-speeds':
    'With one speed lag and play are one. Sweep out and back once more, twice as fast or half as fast.',
  'lag-needs-slope':
    'The edge is too true for the lag to show. Turn the vise well out of true and sweep again at both speeds.',
  'saddle-moved':
    "The readout's other axis moved while the sweep was taken. Lock it and sweep again.",
  'doubling-suspected':
    'The nudge showed twice or half of the travel: diameter taken for radius, or a stylus of another length.',
  'counting-reversed':
    'The device counts the other way than at its last nudge. If it was turned over, all is well; if not, nudge again.',
  'on-hold':
    'The device is on hold for a second or longer. Switch hold off; nothing is measured until then.',
  'min-max-mode': 'It shows its largest or smallest value. Back to normal reading.',
  'over-range':
    'Out of its range for a second or longer. Preload the stylus, or back it off its stop.',
  'device-error': 'It says that something is wrong with it. Off and on, zero, nudge.',
  'low-battery':
    'It still measures. Change the battery before the next sweep, zero it and do its nudge again.',
  'unit-switched':
    'Its number changed 25.4-fold at once: the unit was switched on the device. Switch back or connect anew with the other unit; sweep again.',
  'comes-and-goes':
    'The device connects and drops again and again: plug, cable, socket, hub, supply.',
  'falls-asleep':
    'It switches itself off after the same time at rest, again and again. Switch automatic power-off off.',
  'line-silent':
    'Open, but nothing arrives: switched on? cable? set to send? asleep? Where the port shows no power on the interface lines, that is said.',
  'not-understood':
    'Bytes arrive, but no whole reading: wrong speed or parity, or another line shape.',
  'modbus-no-answer':
    'Asked over Modbus and silent: switched on? unit number? on a serial line speed and parity too.',
  'modbus-refused':
    'The Modbus device answers, but refuses; the message says why: no such register, other function, busy.',
  'modbus-garbled':
    'What comes is no Modbus answer of that unit, or its checksum is wrong: parity, cable, another service on that port.',
  'mtconnect-no-answer': 'The MTConnect agent is silent; it is asked again by itself.',
  'mtconnect-certificate':
    "The agent's certificate is not accepted here; the message says why. Your own one: `NODE_EXTRA_CA_CERTS`.",
  'mtconnect-no-https': 'Nothing there speaks https: leave the s away, or another port number.',
  'mtconnect-unavailable':
    'The agent answers, but its machine gives no position: switched on, connected?',
  'mtconnect-item-not-found':
    'The agent has no position of that name; the message names those it has.',
  'mtconnect-item-not-length':
    'That data item is no position in millimetres, told as single values: take a linear axis.',
  'mtconnect-not-understood': 'What answers is no MTConnect agent: host, port number.',
  'mtconnect-too-long': 'One document is longer than 4 MB: name the machine behind the address.',
  'mtconnect-refused': 'The agent refuses what it is asked; the message carries its words.',
  'frame-too-long': 'No end of line within the longest a line can be: usually the wrong speed.',
  'channel-not-heard': 'The device sends another channel than the one that was set.',
  'unit-changed':
    'The unit was switched on the device; its readings are refused until it is switched back or connected anew.',
  'unit-not-sent': 'The line carries no unit and none is set: set mm or in.',
  'shape-not-known': 'There is no line shape of that name.',
  'shape-file-not-read':
    'A file in the `shapes` folder cannot be used; the message names file, line and field. The others are read all the same.',
  'shape-name-taken': 'Another line shape has that name already.',
  'shape-in-use': 'A device is read by that line shape now: disconnect it first.',
  'too-many-shapes': "There are 200 line shapes of the shop's own already.",
  'shape-not-usable': 'A line shape fails its own samples; the message names the field.',
  'device-missing': 'This way of working needs a device that is not connected.',
  'mtconnect-redirects':
    'What answers sends us to another address; it is not followed. Give the address of the agent itself.',
} as const;
