#pragma once

#include "assembly/lifting.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

/// Steps of assembly in the words that lists and drawings share.
namespace ribbay {

/// What the shop calls things: marks of made parts and titles of what is bought.
class Names {
 public:
  explicit Names(const Layout& layout);
  /// With what part_types(layout) has said.
  Names(const Layout& layout, const std::vector<PartType>& types);

  std::string mark(const std::string& part) const;  ///< empty: it is not made
  /// "Rail M3 (rack/rail.front)".
  std::string part(const std::string& id) const;
  /// "Rail M3".
  std::string brief(const std::string& id) const;
  /// "2 x Bracket 40", "4 x Bolt M8 x 16": what they are by the catalogue, rising. Bodies that came
  /// with others are not counted.
  std::vector<std::string> counted(const std::vector<std::string>& ids) const;

 private:
  const Layout& layout_;
  std::map<std::string, std::string, std::less<>> marks_;
};

std::vector<std::string> ids_of(const std::vector<Driven>& fasteners);

/// Tools of the fasteners with how many each drives: "hexagon key 6 mm (4)".
std::vector<std::string> tools(const std::vector<Driven>& fasteners);

/// What to do with a thing that would fall or topple, or that nothing holds down; empty when
/// something holds it.
std::string holding(const Layout& layout, const AssemblyStep& step);

/// What one person lifts alone here, and who says so.
std::string lifting_rule(const Layout& layout);

/// "one person", "two people or a prop", or "more than two people, or a lift".
std::string people(const std::optional<Lift>& lift);

/// How it is carried: what each end takes, where its centre of mass is, where to hold it. Its ends
/// are named by the van's sides, or by its own when the way that its front looks is given.
std::vector<std::string> lift_lines(const Layout& layout, const Lift& lift,
                                    std::optional<Vec3> front = {});

}  // namespace ribbay
