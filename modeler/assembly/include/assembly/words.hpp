#pragma once

#include "assembly/assembly.hpp"

#include <map>
#include <string>
#include <vector>

/// Steps of assembly in the words that lists and drawings share.
namespace ribbay {

/// A person lifts at most this alone, kg; above it a step asks for two people or a prop. Source:
/// reference mass of ISO 11228-1 for adult men, from memory; less for others and for bad grips.
inline constexpr double kOnePersonLifts = 25.0;

/// What the shop calls things: marks of made parts and titles of what is bought.
class Names {
 public:
  explicit Names(const Layout& layout);

  std::string mark(const std::string& part) const;  ///< empty: it is not made
  /// "Rail M3 (rack/rail.front)".
  std::string part(const std::string& id) const;
  /// "2 x Bracket 40", "4 x Bolt M8 x 16": what they are by the catalogue, rising.
  std::vector<std::string> counted(const std::vector<std::string>& ids) const;

 private:
  const Layout& layout_;
  std::map<std::string, std::string, std::less<>> marks_;
};

std::vector<std::string> ids_of(const std::vector<Driven>& fasteners);

/// Tools of the fasteners with how many each drives: "hexagon key 6 mm (4)".
std::vector<std::string> tools(const std::vector<Driven>& fasteners);

/// What to do with a thing that nothing before it holds; empty when something does.
std::string holding(const Layout& layout, const AssemblyStep& step);

/// "one person", or "two people or a prop".
std::string people(double mass_kg);

}  // namespace ribbay
