#include "joints.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// From the ends of a row to its outermost fasteners (common practice, no source).
constexpr double kFromEnd = 40.0;

}  // namespace

Finding fault(const Pair& pair, std::string code) {
  Finding finding = input_error(std::move(code), pair.place);
  finding.subjects = {pair.shop.id("joint." + pair.name), pair.shop.id(pair.a.name()),
                      pair.shop.id(pair.b.name())};
  return finding;
}

std::string numbered(std::string_view noun, const Pair& pair, std::size_t index,
                     std::size_t count) {
  std::string name{noun};
  name.append(".").append(pair.name);
  if (count > 1) name.append("_").append(std::to_string(index + 1));
  return name;
}

std::optional<Patch> meeting(const Pair& pair, double gap) {
  if (const auto patch = contact(pair.a, pair.b, gap)) return patch;
  const double apart = separation(pair.a, pair.b);
  if (apart > gap + kContact) {
    pair.shop.find(fault(pair, "joint.apart")
                       .with("measured", apart, Unit::mm)
                       .with("required", gap, Unit::mm));
  } else if (!square(pair.a, pair.b)) {
    pair.shop.find(fault(pair, "joint.not_square"));
  } else if (apart > gap - kContact) {
    pair.shop.find(fault(pair, "joint.edge_only"));
  } else {
    pair.shop.find(fault(pair, "joint.overlap")
                       .with("measured", gap - apart, Unit::mm)
                       .with("required", gap, Unit::mm));
  }
  return std::nullopt;
}

std::optional<Patch> end_meeting(const Pair& pair) {
  const Bar* bar = pair.a.bar();
  if (bar == nullptr) {
    pair.shop.find(fault(pair, "joint.no_member").with("found", pair.shop.id(pair.a.name())));
    return std::nullopt;
  }
  auto patch = meeting(pair);
  if (patch && std::abs(dot(patch->out, bar->direction)) < 0.5) {
    pair.shop.find(fault(pair, "joint.not_at_end"));
    return std::nullopt;
  }
  return patch;
}

std::vector<Vec3> places(const Pair& pair, const Patch& patch, Vec3 along, const Row& row,
                         double margin) {
  const double length = patch.length(along);
  std::vector<double> at = row.at;
  if (at.empty() && length >= 2 * margin) {
    const double edge = std::max(margin, std::min(kFromEnd, length / 4));
    const double span = length - 2 * edge;
    const auto gaps = std::max(1, static_cast<int>(std::ceil(span / row.spacing - kSame)));
    if (span < 2 * margin) {
      at = {length / 2};
    } else {
      for (int i = 0; i <= gaps; ++i) at.push_back(edge + span * i / gaps);
    }
  }
  const auto misses = [&](double x) {
    return x < margin - kContact || x > length - margin + kContact;
  };
  const auto wrong = std::ranges::find_if(at, misses);
  if (at.empty() || wrong != at.end()) {
    pair.shop.find(fault(pair, "joint.no_room")
                       .with("measured", at.empty() ? length / 2 : *wrong, Unit::mm)
                       .with("length", length, Unit::mm)
                       .with("required", margin, Unit::mm));
    return {};
  }
  std::vector<Vec3> result;
  for (const double x : at) result.push_back(patch.middle + along * (x - length / 2));
  return result;
}

void join(const Pair& pair, const char* kind, std::vector<std::string> hardware) {
  pair.shop.join("joint." + pair.name, kind,
                 {pair.shop.id(pair.a.name()), pair.shop.id(pair.b.name())}, std::move(hardware));
  pair.shop.made().joints.back().glued = pair.glued;
}

bool is_panel(const Pair& pair, const Workpiece& piece) {
  if (piece.board() != nullptr) return true;
  pair.shop.find(fault(pair, "joint.no_panel").with("found", pair.shop.id(piece.name())));
  return false;
}

bool both_members(const Pair& pair) {
  if (pair.b.bar() != nullptr) return true;
  pair.shop.find(fault(pair, "joint.no_member").with("found", pair.shop.id(pair.b.name())));
  return false;
}

Vec3 roomier_side(const Workpiece& b, const Patch& patch) {
  const Bar& bar = *b.bar();
  const double from_start = dot(patch.middle - bar.from, bar.direction);
  return from_start > bar.length / 2 + kContact ? -bar.direction : bar.direction;
}

}  // namespace ribbay::detail
