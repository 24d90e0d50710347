#pragma once

#include "base/output_file.hpp"
#include "base/text.hpp"

#include <string>
#include <vector>

/// The project that a builder starts from. Its files are part of the program, so that it needs none
/// beside it.
namespace ribbay {

/// Names of the sample vans: "short_low", "long_mid", "long_high".
const std::vector<std::string>& sample_vehicles();

/// The vehicle file of a sample van; empty when there is none of that name.
std::string sample_vehicle(const std::string& name);

struct StarterOptions {
  std::string name;                             ///< of the project: small letters, digits and _
  std::string vehicle = "long_high";            ///< one of sample_vehicles()
  LengthStyle unit = LengthStyle::millimetres;  ///< that the project is written in, and shows
};

/// The files of a new project below its folder: NAME.toml, the vehicle file, stock and equipment.
OutputFiles starter_project(const StarterOptions& options);

}  // namespace ribbay
