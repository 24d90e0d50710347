#pragma once

#include "layout/project.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

/// A project that has been laid out already, asked and laid out again many times.
namespace ribbay {

/// Where values come from, as explain_value() tells it for each of `names` when the settings of the
/// command line have no fault; the project is read once for all of them.
std::vector<std::optional<Origin>> explain_values(const Inputs& inputs,
                                                  const std::vector<std::string>& names,
                                                  std::shared_ptr<const Catalogue> catalogue);

/// lay_out() with a catalogue that has been read before, from entries and values that are the same
/// now; its findings are not told again. Null: it is read.
Built<std::optional<Layout>> lay_out(const Inputs& inputs,
                                     std::shared_ptr<const Catalogue> catalogue);

}  // namespace ribbay
