//! Cautions of the catalogue, one sentence for each way of hurting someone. They defer to local rules and to
//! people licensed for the work; none of them says that a thing is safe.

/// Anything on 230 V.
pub(super) const MAINS: &str = "Mains 230 V: have it isolated, proved dead, connected and tested by a qualified electrician to the local rules.";

/// Anything with cells in it.
pub(super) const BATTERY: &str =
    "Battery: never crush, heat or recharge a cell not made for it, and note when it must be changed.";

/// Smoke, heat and carbon monoxide alarms.
pub(super) const FIRE: &str = "Life safety: place, interlink and test it to the local fire rules; \
    it must alarm by itself, never through a rule.";

/// Intrusion sensing, keypads and warning devices.
pub(super) const SECURITY: &str = "Security: agree grade, coverage and response with the insurer \
    and a competent installer, and walk-test every detector.";

/// Cameras and door stations.
pub(super) const CAMERA: &str = "Camera: keep its view off the neighbours and the street as far as it can be, \
    and put up the notices that local privacy law asks for.";

/// Gates and garage doors.
pub(super) const POWERED_DOOR: &str = "Moving gate or door can crush: have the risk assessed, protective devices fitted \
    and forces measured by a competent installer before it moves by itself.";

/// Locks.
pub(super) const LOCK: &str = "Escape route: it must open from inside without key, code or power; \
    agree it with whoever is responsible for fire safety.";

/// Roof lights, blinds and curtains that move by themselves.
pub(super) const MOVING: &str =
    "Moves by itself: keep cords, fingers and children clear, and set its end stops before it is left.";

/// Valves in gas, water and heating pipes.
pub(super) const VALVE: &str =
    "Pipework: have it fitted by a qualified plumber, and leave a manual valve within reach.";

/// Heat sources that a plan could switch on with nobody there.
pub(super) const HEAT: &str =
    "Heat: keep the appliance's own limit thermostat in circuit, and never rely on a rule to switch it off.";

/// Loud warning devices.
pub(super) const LOUD: &str =
    "Loud: wear ear protection while it is tested, and limit how long it sounds to the local rules.";

/// Circuits and power supplies behind which many others hang.
pub(super) const DISTRIBUTION: &str = "Protective devices, cable sizes and earthing must be designed and certified \
    by a qualified electrician.";
