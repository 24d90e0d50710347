#pragma once

#include "spec/evaluator.hpp"
#include "vehicle/vehicle.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

/// Questions to the bare van that expressions may ask, such as `clear_width(x, x, z, z)`.
namespace ribbay::detail {

/// All questions, "distance_to.NAME" for each opening among them.
std::vector<std::string> questions(const Vehicle& vehicle);

/// The answer, a length. A question that nobody knows is Lookup::State::unknown_name; wrong
/// arguments ("layout.wrong_arguments") and a place outside the surveyed room ("layout.no_answer")
/// are said with the answer.
Lookup answer(const Vehicle& vehicle, std::string_view question,
              std::span<const Quantity> arguments);

}  // namespace ribbay::detail
