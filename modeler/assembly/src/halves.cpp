#include "halves.hpp"

#include <algorithm>
#include <vector>

namespace ribbay::detail {

namespace {

bool among(const std::vector<std::string>& ids, const std::string& id) {
  return std::ranges::find(ids, id) != ids.end();
}

}  // namespace

const Joint* joint_of(const Layout& layout, const std::string& half) {
  const auto found = std::ranges::find_if(
      layout.joints, [&](const Joint& joint) { return among(joint.hardware, half); });
  return found == layout.joints.end() ? nullptr : &*found;
}

bool slides(const Joint& joint) {
  return joint.kind == "slide";
}

const Motion* opens_by(const Layout& layout, const Joint& joint) {
  const auto found = std::ranges::find_if(layout.motions, [&](const Motion& motion) {
    return among(motion.parts, joint.parts.front()) && !among(motion.parts, joint.parts.back());
  });
  return found == layout.motions.end() ? nullptr : &*found;
}

}  // namespace ribbay::detail
