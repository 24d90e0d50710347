#pragma once

#include "assembly/assembly.hpp"

#include <map>
#include <string>
#include <vector>

namespace ribbay::detail {

/// What the shop calls things: marks of made parts and titles of what is bought.
class Names {
 public:
  explicit Names(const Layout& layout);

  std::string mark(const std::string& part) const;  ///< empty: it is not made
  /// "Rail M3 (rack/rail.front)".
  std::string part(const std::string& id) const;
  /// "2 x Bracket 40, 4 x Bolt M8 x 16", by catalogue key.
  std::string counted(const std::vector<std::string>& ids) const;

 private:
  const Layout& layout_;
  std::map<std::string, std::string, std::less<>> marks_;
};

/// Tools of the fasteners with how many each drives: "hexagon key 6 mm (4)".
std::vector<std::string> tools(const std::vector<Driven>& fasteners);

/// "by one", or "two people or a prop".
std::string people(double mass_kg);

}  // namespace ribbay::detail
