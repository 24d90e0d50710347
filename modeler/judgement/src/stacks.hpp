#pragma once

#include "chain.hpp"
#include "clearance/near.hpp"
#include "judgement/stack.hpp"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace ribbay::detail {

/// How far the gaps between near bodies may be off.
class Stacks {
 public:
  Stacks(const Layout& layout, const NearResult& near, const Chains& chains);

  Stack of(const NearPair& pair) const;

 private:
  Face face_a(const NearPair& pair, int axis) const;
  Face face_b(const NearPair& pair, int axis) const;
  std::vector<Contributor> contributors(const NearPair& pair, int axis) const;
  std::vector<Contributor> to_van(const NearPair& pair, int axis) const;
  std::vector<Contributor> or_by_hand(std::optional<std::vector<Contributor>> chain,
                                      const std::string& part) const;

  const Layout& layout_;
  const Chains& chains_;
  /// Uncertainty of the walls that a module is near, by the module and whether it is the left one.
  std::map<std::pair<std::string, bool>, double> walls_;
};

}  // namespace ribbay::detail
