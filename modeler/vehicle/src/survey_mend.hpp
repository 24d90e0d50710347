#pragma once

#include "spec/document.hpp"

#include <functional>
#include <optional>
#include <string>

/// Guesses at how a reading went wrong on its way to the file.
namespace ribbay::detail {

struct Mend {
  std::string name;   ///< of the argument of a finding: "swapped" or "slip"
  std::string words;  ///< "879", or "10"
  double mm = 0.0;    ///< what the reading then is
};

/// The first of these that `fits`: two neighbouring digits of the number as `written` changed over,
/// or the whole multiplied or divided by 10 or by 25.4. `written` may be nullptr or anything else
/// than a plain quantity; then digits are left alone.
std::optional<Mend> mend_of(const Node* written, double mm,
                            const std::function<bool(double)>& fits);

/// The value at `index` of the list `field` of the table `kind`.`name`, or the value itself where
/// it is no list; nullptr when it is not written.
const Node* written_value(const Document& document, const std::string& kind,
                          const std::string& name, const std::string& field,
                          std::optional<std::size_t> index = std::nullopt);

}  // namespace ribbay::detail
