#pragma once

#include "base/vec.hpp"

#include <optional>
#include <string>
#include <vector>

/// What the survey of a van says about its floor and what it stands on. Lengths in mm in van axes,
/// masses in kg.
namespace ribbay {

/// One layer of the floor.
struct FloorLayer {
  std::string name;
  double thickness = 0.0;
  std::string material{};  ///< may be empty
  bool soft = false;       ///< a bolt would crush it: each takes a sleeve of its thickness
};

/// A beam under the floor that can take a bolt.
struct Joist {
  std::string name;
  bool across = true;  ///< runs along y; else along x
  double at = 0.0;     ///< its middle: x when across, else y
  double width = 0.0;
  double from = 0.0;  ///< its ends, along its length
  double to = 0.0;
  double flange = 0.0;  ///< metal that a bolt through it passes before its nut; 0: not known
};

/// A place in the floor made to be bolted to.
struct HardPoint {
  std::string name;
  Vec2 at;                 ///< x and y
  std::string thread;      ///< "M8"
  std::string strength{};  ///< what it holds, in the words of whoever says so
};

/// A part of the floor that must not be drilled.
struct NoDrill {
  std::string name;
  double from = 0.0;  ///< x
  double to = 0.0;
  double right = 0.0;  ///< y
  double left = 0.0;
  std::string what;    ///< what lies below: "fuel tank"
  double below = 0.0;  ///< how far below the surface of the floor it begins; 0: not known
};

enum class EmptyFrom { file, weighbridge };

struct Axle {
  double x = 0.0;
  double track = 0.0;
  double limit_kg = 0.0;
  double empty_kg = 0.0;  ///< load of the empty van on this axle
  EmptyFrom empty_from = EmptyFrom::file;
  std::optional<double> wheel_limit_kg{};  ///< of each of its wheels
};

/// What a weighbridge read with the van empty.
struct Weighbridge {
  std::string date;
  double front_kg = 0.0;
  double rear_kg = 0.0;
  std::optional<double> left_kg{};
  std::optional<double> right_kg{};
  std::optional<double> total_kg{};
  std::optional<double> fuel{};    ///< share of a full tank
  int persons = 0;                 ///< aboard while it was weighed
  double person_kg = 0.0;          ///< mass of each of them
  std::optional<double> seat_x{};  ///< where they sat
};

}  // namespace ribbay
