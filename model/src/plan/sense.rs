//! Ways of sensing, as far as the building is concerned: what each passes, and how doors are taken.

/// A way of sensing; what stops it differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sense {
    /// Body heat (passive infrared): glass stops it.
    BodyHeat,
    /// Microwave or millimetre waves. Glass lets it through; boards and door leaves do with a loss.
    Microwave,
    /// Body heat and microwave together: both must see, so glass stops it.
    Dual,
    /// Light, as a camera takes it: glass lets it through.
    Camera,
    /// Sound, as a glass-break detector or a microphone hears it: door leaves let it through with a loss.
    Sound,
    /// Smoke, heat or gas that must reach the device.
    FireOrGas,
}

impl Sense {
    /// Every sense, in the order they are offered.
    pub const ALL: [Self; 6] =
        [Self::BodyHeat, Self::Microwave, Self::Dual, Self::Camera, Self::Sound, Self::FireOrGas];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::BodyHeat => "body heat",
            Self::Microwave => "microwave",
            Self::Dual => "body heat and microwave",
            Self::Camera => "camera",
            Self::Sound => "sound",
            Self::FireOrGas => "fire or gas",
        }
    }

    /// Whether it looks along straight lines, as what notices people does; sound and gas go round corners.
    pub const fn looks(self) -> bool {
        !matches!(self, Self::Sound | Self::FireOrGas)
    }

    /// Whether clear glass lets it through (maker guidance for body heat; plain optics for cameras).
    pub const fn passes_glass(self) -> bool {
        matches!(self, Self::Camera | Self::Microwave)
    }

    /// Whether stud partitions let it through, with a loss (maker guidance for millimetre-wave sensors).
    pub const fn passes_stud(self) -> bool {
        matches!(self, Self::Microwave)
    }

    /// Whether the leaf of a shut door lets it through, with a loss: it is a board to microwaves, and doors are known
    /// to take about 20 dB of sound (a guide to BS 5839-6:2004), not all of it.
    pub const fn passes_leaf(self) -> bool {
        matches!(self, Self::Microwave | Self::Sound)
    }
}

/// How doors are taken by a study.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DoorsAs {
    /// As each is drawn.
    #[default]
    Drawn,
    /// All open by 90°.
    Open,
    /// All shut.
    Shut,
}
