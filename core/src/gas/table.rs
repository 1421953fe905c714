//! Data of the carrier gases; no arithmetic. Coefficients keep the digits of the print.
//!
//! Sources of the columns: molar mass: standard atomic weights, conventional values (IUPAC). Viscosity: McBride, Gordon &
//! Reno 1993, NASA TM-4513, as NASA's transport file prints them (the same fits as Svehla 1995, NASA TM-4647). Heat
//! capacity: McBride, Zehe & Gordon 2002, NASA/TP-2002-211556. Lennard-Jones pairs: Svehla 1962, NASA TR R-132.

/// How the conductivity of a pure gas follows from its temperature.
#[derive(Clone, Copy, Debug)]
pub enum Conductivity {
    /// (15/4) R μ/M: no internal motion takes part.
    Monatomic,
    /// a μ/µPa·s + b τ^−1 + c τ^−0.7 mW/(m K), τ = T_c/T; Lemmon & Jacobsen 2004, dilute-gas term.
    Reduced {
        /// T_c, K.
        critical_temperature: f64,
        /// a, b, c.
        coefficients: [f64; 3],
    },
    /// Σ a_i t^i / Σ b_i t^i W/(m K), t = T/T_c; Assael et al. 2011, dilute-gas term.
    Rational {
        /// T_c, K.
        critical_temperature: f64,
        /// a_0 … a_6.
        numerator: [f64; 7],
        /// b_0 … b_3.
        denominator: [f64; 4],
    },
}

/// One carrier gas.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Formula, as the job file writes it.
    pub name: &'static str,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
    /// A, B (K), C (K²), D of ln(μ/µP) = A ln T + B/T + C/T² + D, the row of 200 to 1000 K.
    pub viscosity: [f64; 4],
    /// a₁ (K²) … a₇ (K⁻⁴) of c_p/R, below and above 1000 K; 200 to 6000 K.
    pub heat_capacity: [[f64; 7]; 2],
    /// Law of the conductivity, 200 to 1500 K.
    pub conductivity: Conductivity,
    /// Lennard-Jones collision diameter, m.
    pub collision_diameter: f64,
    /// Lennard-Jones well depth over k_B, K.
    pub well_depth: f64,
    /// Where the row's numbers were read.
    pub source: &'static str,
}

/// Hydrogen.
pub const HYDROGEN: Row = Row {
    name: "H2",
    molar_mass: 2.01588e-3,
    viscosity: [0.745_531_82, 43.555_109, -3_257.934_0, 0.135_562_43],
    heat_capacity: [
        [
            4.078_323_210e4,
            -8.009_186_040e2,
            8.214_702_010,
            -1.269_714_457e-2,
            1.753_605_076e-5,
            -1.202_860_270e-8,
            3.368_093_490e-12,
        ],
        [
            5.608_128_010e5,
            -8.371_504_740e2,
            2.975_364_532,
            1.252_249_124e-3,
            -3.740_716_190e-7,
            5.936_625_200e-11,
            -3.606_994_100e-15,
        ],
    ],
    conductivity: Conductivity::Rational {
        critical_temperature: 33.145,
        numerator: [-0.340_976, 4.588_20, -1.450_80, 0.326_394, 3.169_39e-3, 1.905_92e-4, -1.139e-6],
        denominator: [138.497, -22.187_8, 4.571_51, 1.0],
    },
    collision_diameter: 2.827e-10,
    well_depth: 59.7,
    source: "viscosity NASA TM-4513; c_p NASA/TP-2002-211556; conductivity Assael et al. 2011; pair Svehla 1962",
};

/// Nitrogen.
pub const NITROGEN: Row = Row {
    name: "N2",
    molar_mass: 28.0134e-3,
    viscosity: [0.625_265_77, -31.779_652, -1_640.798_3, 1.745_499_2],
    heat_capacity: [
        [
            2.210_371_497e4,
            -3.818_461_820e2,
            6.082_738_360,
            -8.530_914_410e-3,
            1.384_646_189e-5,
            -9.625_793_620e-9,
            2.519_705_809e-12,
        ],
        [
            5.877_124_060e5,
            -2.239_249_073e3,
            6.066_949_220,
            -6.139_685_500e-4,
            1.491_806_679e-7,
            -1.923_105_485e-11,
            1.061_954_386e-15,
        ],
    ],
    conductivity: Conductivity::Reduced { critical_temperature: 126.192, coefficients: [1.511, 2.117, -3.332] },
    collision_diameter: 3.798e-10,
    well_depth: 71.4,
    source: "viscosity NASA TM-4513; c_p NASA/TP-2002-211556; conductivity Lemmon & Jacobsen 2004; pair Svehla 1962",
};

/// Argon.
pub const ARGON: Row = Row {
    name: "Ar",
    molar_mass: 39.948e-3,
    viscosity: [0.612_057_63, -67.714_354, 190.406_60, 2.158_827_2],
    heat_capacity: [
        [0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0],
        [
            20.105_384_75,
            -0.059_926_610_7,
            2.500_069_401,
            -3.992_141_16e-8,
            1.205_272_14e-11,
            -1.819_015_576e-15,
            1.078_576_636e-19,
        ],
    ],
    conductivity: Conductivity::Monatomic,
    collision_diameter: 3.542e-10,
    well_depth: 93.3,
    source: "viscosity NASA TM-4513; c_p NASA/TP-2002-211556; conductivity kinetic theory; pair Svehla 1962",
};

/// Helium.
pub const HELIUM: Row = Row {
    name: "He",
    molar_mass: 4.002_602e-3,
    viscosity: [0.750_159_44, 35.763_243, -2_212.129_1, 0.921_263_52],
    heat_capacity: [[0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0], [0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0]],
    conductivity: Conductivity::Monatomic,
    collision_diameter: 2.551e-10,
    well_depth: 10.22,
    source: "viscosity NASA TM-4513; c_p NASA/TP-2002-211556; conductivity kinetic theory; pair Svehla 1962",
};
