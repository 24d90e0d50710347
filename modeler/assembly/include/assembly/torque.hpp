#pragma once

#include "assembly/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

/// How tight a bolt is driven.
namespace ribbay {

/// Friction in the thread and under the head that torques are reckoned with: dry or lightly oiled
/// steel; the class that tables of VDI 2230 begin with. Greased, the same torque pulls more.
inline constexpr double kFriction = 0.12;

struct Tightening {
  double preload_n = 0.0;
  double torque_n_mm = 0.0;
};

/// Thread and head, mm.
struct ThreadSizes {
  double diameter = 0.0;
  double pitch = 0.0;
  double head = 0.0;  ///< that bears
  double hole = 0.0;  ///< under the head
};

/// Tightening to nine tenths of the yield strength (MPa), torsion by the thread counted in. Source:
/// VDI 2230, short form: FM = 0.9 Rp A0 / sqrt(1 + 3 (1.5 (d2/d0) (P/(pi d2) + 1.155 mu))^2),
/// MA = FM (0.159 P + 0.577 mu d2 + mu DKm/2).
Tightening tightening(const ThreadSizes& sizes, double yield_mpa, double friction = kFriction);

/// The same for a machine bolt of strength class 8.8, 10.9 or 12.9 in a slot nut, with no more
/// preload than the nut may be pulled with. Nullopt when that, the class or the thread is not
/// known: the full torque of the bolt could tear the slot. Coarse pitches of ISO 261, from memory.
std::optional<Tightening> tightening(const Bolt& bolt, const Nut& nut);

/// The same in a hexagon nut of the class that belongs to it (ISO 898-2), which holds more than the
/// bolt. What is clamped may bear less.
std::optional<Tightening> tightening(const Bolt& bolt);

/// Bolts of one kind in nuts of one kind: slot nuts, or hexagon nuts that are no part of the
/// layout.
struct SlotBolts {
  std::string bolt;  ///< titles
  std::string nut;
  std::optional<Tightening> tight;  ///< nullopt: not known
};
/// All kinds that a unit is held by, in its steps and in the van, sorted by title.
std::vector<SlotBolts> slot_bolts(const Layout& layout, const AssemblyUnit& unit);

}  // namespace ribbay
