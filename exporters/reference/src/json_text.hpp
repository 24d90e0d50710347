#pragma once

#include <nlohmann/json.hpp>

#include <string>

namespace ribbay::detail {

/// JSON for people who compare two versions: what fits in a line stands in a line.
std::string json_text(const nlohmann::ordered_json& json);

}  // namespace ribbay::detail
