#include "symmetry.hpp"

#include "base/tolerance.hpp"
#include "shape/closed_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace ribbay::detail {

namespace {

bool same(Vec3 a, Vec3 b) {
  return length(a - b) < kSame;
}
bool equal(double a, double b) {
  return std::abs(a - b) < kSame;
}
bool sideways(Face face) {
  return face == Face::left || face == Face::right;
}

/// "WHAT 2" for the first item of a list that has no image in it, or empty.
template <class List, class IsImage>
std::string alone_in(const List& list, const std::string& what, IsImage is_image) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    const auto image_of = [&](const auto& other) { return is_image(list[i], other); };
    if (std::ranges::none_of(list, image_of)) return what + " " + std::to_string(i + 1);
  }
  return {};
}

class Mirror {
 public:
  explicit Mirror(const Equipment& item) : item_{item}, width_{item.body().size().x} {}

  std::string first_alone() const {
    for (const std::string& alone :
         {alone_in(item_.boxes, "box", [&](auto&a, auto&b) { return images(a, b); }),
          alone_in(item_.rounds, "round", [&](auto&a, auto&b) { return images(a, b); }),
          alone_in(item_.feet, "foot", [&](Vec3 a, Vec3 b) { return same(image(a), b); }),
          alone_in(item_.fixings, "fixing", [&](auto&a, auto&b) { return images(a, b); }),
          alone_in(item_.ports, "port", [&](auto&a, auto&b) { return images(a, b); }),
          alone_in(item_.opens, "opens", [&](auto&a, auto&b) { return images(a, b); })}) {
      if (!alone.empty()) return alone;
    }
    if (item_.imported && !is_own_image(*item_.imported->mesh)) return "shape";
    if (differ(item_.air, std::identity{})) return "air";
    if (differ(item_.hot, &HotFace::gap) || differ(item_.hot, &HotFace::kelvin)) return "hot";
    if (item_.comes_out && sideways(item_.comes_out->towards)) return "comes_out";
    return {};
  }

 private:
  Vec3 image(Vec3 p) const { return {width_ - p.x, p.y, p.z}; }

  bool images(const EquipmentBox& a, const EquipmentBox& b) const {
    return same(a.size, b.size) && same(image(a.at + Vec3{a.size.x, 0, 0}), b.at);
  }
  bool images(const BodyRound& a, const BodyRound& b) const {
    const Vec3 begin = a.axis.x > 0.5 ? a.at + a.axis * a.length : a.at;
    return equal(a.diameter, b.diameter) && equal(a.length, b.length) && a.axis == b.axis &&
           same(image(begin), b.at);
  }
  bool images(const FixingHole& a, const FixingHole& b) const {
    const Vec3 direction{-a.direction.x, a.direction.y, a.direction.z};
    return equal(a.diameter, b.diameter) && same(image(a.at), b.at) && same(direction, b.direction);
  }
  /// Plus and minus, hot and cold must not change places: a port is its own image or has none.
  bool images(const Port& a, const Port& b) const {
    return a.name == b.name && same(image(a.at), a.at) && !sideways(a.out);
  }
  bool images(const OpensFront& a, const OpensFront& b) const {
    const auto leaf = std::ranges::find(item_.boxes, a.leaf, &EquipmentBox::name);
    return a.name == b.name && !sideways(a.face) &&
           (a.way == OpensWay::pull || !sideways(a.hinge)) &&
           (leaf == item_.boxes.end() || images(*leaf, *leaf));
  }

  /// Whether each point of a body has an image among its points, to what its file rounds to.
  bool is_own_image(const ClosedMesh& mesh) const {
    std::vector<Vec3> sorted = mesh.points;
    std::ranges::sort(sorted, {}, &Vec3::x);
    return std::ranges::all_of(mesh.points, [&](Vec3 p) {
      const Vec3 there = image(p);
      auto at = std::ranges::lower_bound(sorted, there.x - kContact, {}, &Vec3::x);
      for (; at != sorted.end() && at->x <= there.x + kContact; ++at) {
        if (length(*at - there) <= kContact) return true;
      }
      return false;
    });
  }

  /// Whether a member of what is said of each face is not the same at the left and the right.
  template <class Faces, class Member>
  static bool differ(const Faces& faces, Member member) {
    const auto of = [&](Face face) {
      const auto found = faces.find(face);
      return found == faces.end() ? 0.0 : std::invoke(member, found->second);
    };
    return !equal(of(Face::left), of(Face::right));
  }

  const Equipment& item_;
  double width_;
};

}  // namespace

std::string without_image(const Equipment& item) {
  return Mirror(item).first_alone();
}

}  // namespace ribbay::detail
