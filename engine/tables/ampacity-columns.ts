// The columns of current-carrying capacities that IEC 60364-5-52 tabulates for three loaded conductors, as data.

import type { Citation } from './evidence.ts';

/**
 * Reference methods of installation: A1 and A2 single cores and multicore in a conduit in an insulating wall, B1 and B2
 * the same on a wall, C clipped to a wall or floor, D1 multicore in a duct in the ground, D2 direct in the ground, E
 * multicore in free air or on a perforated tray, F single cores in trefoil in free air. G, spaced single cores, isn't held.
 */
export type InstallationMethod = 'A1' | 'A2' | 'B1' | 'B2' | 'C' | 'D1' | 'D2' | 'E' | 'F';

export type AmpacityColumn = {
  readonly conductor: 'copper' | 'aluminium';
  readonly insulation: 'xlpe' | 'pvc';
  readonly method: InstallationMethod;
  readonly citation: Citation;
  /** A by nominal size in mm². */
  readonly rows: ReadonlyMap<number, number>;
};

const openTables =
  'as open tables have it whose makers say that they follow the standard; checked against the powers of the size that its annex gives';

export const columnSources = {
  seen: { source: `IEC 60364-5-52:2009, Tables B.52.4 and B.52.5, ${openTables}`, evidence: 'seen in source' },
  freeAir: { source: `IEC 60364-5-52:2009, Tables B.52.10 to B.52.13, ${openTables}`, evidence: 'seen in source' },
  remembered: { source: 'IEC 60364-5-52, Tables B.52.4 and B.52.5', evidence: 'from memory' },
} as const satisfies Readonly<Record<string, Citation>>;

/** Sizes of the columns, mm²; those of aluminium begin at 2.5, those of single cores in free air at 25. */
const sizes = [1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 500, 630];

const { seen, freeAir, remembered } = columnSources;

export const ampacityColumns: readonly AmpacityColumn[] = [
  column('copper pvc A1', seen, 1.5, '13.5 18 24 31 42 56 73 89 108 136 164 188 216 245 286 328'),
  column('copper pvc A2', seen, 1.5, '13 17.5 23 29 39 52 68 83 99 125 150 172 196 223 261'),
  column('copper pvc B1', seen, 1.5, '15.5 21 28 36 50 68 89 110 134 171 207 239 262 296 346 394'),
  column('copper pvc B2', seen, 1.5, '15 20 27 34 46 62 80 99 118 149 179 206 225 255 297'),
  column('copper pvc C', seen, 1.5, '17.5 24 32 41 57 76 96 119 144 184 223 259 299 341 403 464'),
  column('copper pvc D1', seen, 1.5, '18 24 30 38 50 64 82 98 116 143 169 192 217 243 280 316'),
  column('copper pvc D2', seen, 1.5, '19 24 33 41 54 70 92 110 130 162 193 220 246 278 320 359'),
  column('copper pvc E', freeAir, 1.5, '18.5 25 34 43 60 80 101 126 153 196 238 276 319 364 430 497'),
  column('copper pvc F', freeAir, 25, '110 137 167 216 264 308 356 409 485 561 656 749 855'),
  column('copper xlpe A1', seen, 1.5, '17 23 31 40 54 73 95 117 141 179 216 249 285 324 380 435'),
  column('copper xlpe A2', seen, 1.5, '16.5 22 30 38 51 68 89 109 130 164 197 227 259 295 346'),
  column('copper xlpe B1', seen, 1.5, '20 28 37 48 66 88 117 144 175 222 269 312 342 384 450 514'),
  column('copper xlpe B2', seen, 1.5, '19.5 26 35 44 60 80 105 128 154 194 233 268 300 340 398'),
  column('copper xlpe C', seen, 1.5, '22 30 40 52 71 96 119 147 179 229 278 322 371 424 500 576'),
  column('copper xlpe D1', seen, 1.5, '21 28 36 44 58 75 96 115 135 167 197 223 251 281 324 365'),
  column('copper xlpe D2', seen, 1.5, '23 30 39 49 65 84 107 129 153 188 226 257 287 324 375 419'),
  column('copper xlpe E', freeAir, 1.5, '23 32 42 54 75 100 127 158 192 246 298 346 399 456 538 621'),
  column('copper xlpe F', freeAir, 25, '135 169 207 268 328 383 444 510 607 703 823 946 1088'),
  column('aluminium pvc A1', seen, 2.5, '14 18.5 24 32 43 57 70 84 107 129 149 170 194 227 261'),
  column('aluminium pvc A2', remembered, 2.5, '13.5 17.5 23 31 41 53 65 78 98 118 135 155 176 207 237'),
  column('aluminium pvc B1', seen, 2.5, '16.5 22 28 39 53 70 86 104 133 161 186 204 230 269 306'),
  column('aluminium pvc B2', remembered, 2.5, '15.5 21 27 36 48 62 77 92 116 139 160 176 199 232 265'),
  column('aluminium pvc C', seen, 2.5, '18.5 25 32 44 59 73 90 110 140 170 197 227 259 305 351'),
  column('aluminium pvc D1', seen, 2.5, '18.5 24 30 39 50 64 77 91 112 132 150 169 190 218 247'),
  column('aluminium pvc D2', seen, 16, '53 69 83 99 122 148 169 189 214 250 282'),
  column('aluminium pvc E', freeAir, 2.5, '19.5 26 33 46 61 78 96 117 150 183 212 245 280 330 381'),
  column('aluminium pvc F', freeAir, 25, '84 105 128 166 203 237 274 315 375 434 526 610 711'),
  column('aluminium xlpe A1', seen, 2.5, '19 25 32 44 58 76 94 113 142 171 197 226 256 300 344'),
  column('aluminium xlpe A2', remembered, 2.5, '18 24 31 41 55 71 87 104 131 157 180 206 233 273 313'),
  column('aluminium xlpe B1', seen, 2.5, '22 29 38 52 71 93 116 140 179 217 251 267 300 351 402'),
  column('aluminium xlpe B2', remembered, 2.5, '21 28 35 48 64 84 103 124 156 188 216 240 272 318 364'),
  column('aluminium xlpe C', seen, 2.5, '24 32 41 57 76 90 112 136 174 211 245 283 323 382 440'),
  column('aluminium xlpe D1', seen, 2.5, '22 28 35 46 59 75 90 106 130 154 174 197 220 253 286'),
  column('aluminium xlpe D2', remembered, 16, '64 82 98 117 144 172 197 220 250 290 326'),
  column('aluminium xlpe E', freeAir, 2.5, '24 32 42 58 77 97 120 146 187 227 263 304 347 409 471'),
  column('aluminium xlpe F', freeAir, 25, '103 129 159 206 253 296 343 395 471 547 663 770 899'),
];

function column(
  of: `${AmpacityColumn['conductor']} ${AmpacityColumn['insulation']} ${InstallationMethod}`,
  citation: Citation,
  firstSize: number,
  currents: string,
): AmpacityColumn {
  const [conductor, insulation, method] = of.split(' ') as [
    AmpacityColumn['conductor'],
    AmpacityColumn['insulation'],
    InstallationMethod,
  ];
  const first = sizes.indexOf(firstSize);
  const rows = currents.split(' ').map((current, index) => [sizes[first + index]!, Number(current)] as const);
  return { conductor, insulation, method, citation, rows: new Map(rows) };
}
