/**
 * The recipe of a page that was never opened before: demo/jobs/three-stage.json, invented numbers.
 */

/** @type {import('./store.js').Job} */
export const EXAMPLE_JOB = {
  format: 'wire-growth-job/1',
  title: 'p-i-n wires for a printed near-infrared detector ink',
  note: 'invented teaching scenario: the last zone of the first tube is cool so that the wall strips the acceptor, heated mixers bring the gas to 300 C between the tubes, and this line\'s pyrolysis is slower than the built-in set',
  carrier: { H2: 1 },
  pressure_mbar: 1000,
  material: 'InP',
  seeds: { metal: 'Au', mobility_diameter_nm: 50, spread_gsd: 1.05, concentration_per_cm3: 600000 },
  aerosol_sccm: 900,
  stages: [
    {
      name: 'p contact',
      tube_diameter_mm: 32,
      inlet_c: 120,
      flange_c: 120,
      zones: [
        { length_mm: 150, wall_c: 450 },
        { length_mm: 160, wall_c: 450 },
        { length_mm: 300, wall_c: 330 },
      ],
      blend_mm: 80,
      carrier_sccm: 2900,
      feeds: [
        {
          precursor: 'TMIn',
          bubbler: { bath_c: 20, bath_mbar: 1000, carrier_sccm: 111, line_c: 40 },
        },
        { precursor: 'PH3', flow_sccm: 20, share: 1 },
        {
          precursor: 'DEZn',
          bubbler: { bath_c: -5, bath_mbar: 1000, carrier_sccm: 5, line_c: 40 },
        },
      ],
    },
    {
      name: 'absorber',
      tube_diameter_mm: 32,
      inlet_c: 300,
      flange_c: 300,
      zones: [
        { length_mm: 150, wall_c: 440 },
        { length_mm: 250, wall_c: 440 },
        { length_mm: 150, wall_c: 440 },
      ],
      carrier_sccm: 400,
      feeds: [
        {
          precursor: 'TMIn',
          bubbler: { bath_c: 20, bath_mbar: 1000, carrier_sccm: 36, line_c: 40 },
        },
        { precursor: 'PH3', flow_sccm: 10, share: 1 },
      ],
    },
    {
      name: 'n contact',
      tube_diameter_mm: 32,
      inlet_c: 300,
      flange_c: 300,
      zones: [
        { length_mm: 100, wall_c: 440 },
        { length_mm: 120, wall_c: 440 },
        { length_mm: 100, wall_c: 440 },
      ],
      carrier_sccm: 400,
      feeds: [
        {
          precursor: 'TMIn',
          bubbler: { bath_c: 20, bath_mbar: 1000, carrier_sccm: 42, line_c: 40 },
        },
        { precursor: 'PH3', flow_sccm: 10, share: 1 },
        {
          precursor: 'TESn',
          bubbler: { bath_c: 25, bath_mbar: 1000, carrier_sccm: 43, line_c: 40 },
        },
      ],
    },
  ],
  kinetics: {
    reference: { temperature_c: 450, group_iii_pa: 4, v_iii: 100, diameter_nm: 60 },
    axial: {
      rate_um_per_s: 1,
      activation_kj_per_mol: 90,
      group_iii_order: 1,
      v_iii_half: 5,
      critical_diameter_nm: 8,
    },
    supply: { sticking: 0.5, collection_length_nm: 150 },
    radial: { rate_nm_per_s: 0.8, activation_kj_per_mol: 110 },
    seed: { group_iii_share: 0.35, contact_angle_deg: 115 },
    pyrolysis: { frequency_per_s: 1e14, activation_kj_per_mol: 205 },
    wall: {
      parent_probability: 2e-6,
      fragment_probability: 0.02,
      activation_kj_per_mol: 60,
      group_v_probability: 1e-9,
      dopant_probability: 0.0005,
    },
    dopants: {
      DEZn: {
        reference_per_cm3: 3e18,
        reference_ratio: 0.02,
        order: 1,
        activation_kj_per_mol: 0,
        limit_per_cm3: 5e19,
        memory_diameters: 0.5,
      },
      TESn: {
        reference_per_cm3: 5e18,
        reference_ratio: 0.05,
        order: 1,
        activation_kj_per_mol: 0,
        limit_per_cm3: 5e19,
        memory_diameters: 0.3,
      },
    },
    uncertainty: { axial: { rate_um_per_s: 0.08, activation_kj_per_mol: 6 } },
  },
  order: {
    diameter_nm: 60,
    segments: [
      { length_nm: 700, tolerance_nm: 100, doping: 'p', carriers_per_cm3: 3e18 },
      { length_nm: 1200, tolerance_nm: 150, doping: 'i', carriers_per_cm3: 5e16 },
      { length_nm: 600, tolerance_nm: 100, doping: 'n', carriers_per_cm3: 5e18 },
    ],
    area_cm2: 100,
    pitch_nm: 500,
  },
};
