#include "joinery.hpp"

#include "base/tolerance.hpp"
#include "screw_bores.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ribbay::detail {

namespace {

/// Distances along `direction`, which is parallel to an axis, at which a line from `at` meets
/// `box`.
std::pair<double, double> crossing(const Box& box, Vec3 at, Vec3 direction) {
  const double a = dot(box.lo - at, direction);
  const double b = dot(box.hi - at, direction);
  return std::minmax({a, b});
}

/// As above for what is left of a board: where the line first meets wood behind the cuts it starts
/// in.
std::pair<double, double> crossing(const Board& board, Vec3 at, Vec3 direction) {
  auto [near, far] = crossing(board.box, at, direction);
  const auto holds = [&](const Box& box, Vec3 p) {
    for (int axis = 0; axis < 3; ++axis) {
      if (p[axis] < box.lo[axis] - kSame || p[axis] > box.hi[axis] + kSame) return false;
    }
    return true;
  };
  for (bool moved = true; moved;) {
    moved = false;
    for (const BoxCut& cut : board.cuts) {
      const double end = crossing(cut.box, at, direction).second;
      if (end <= near + kSame || end >= far - kSame) continue;
      if (!holds(cut.box, at + direction * (near + kSame))) continue;
      near = end;
      moved = true;
    }
  }
  return {near, far};
}

/// Puts cuts and holes in the order of their places along and across the board: boards that are
/// alike are then described alike, whichever way they are turned.
void sort_work(Board& board) {
  const auto along = [&board](Vec3 p) {
    const Vec3 across = cross(board.normal, board.along);
    return std::tuple{std::round(dot(p, board.along) / kPrinted),
                      std::round(dot(p, across) / kPrinted),
                      std::round(dot(p, board.normal) / kPrinted)};
  };
  std::ranges::stable_sort(board.cuts, {}, [&](const BoxCut& cut) {
    return std::tuple{cut.role, along(cut.box.centre())};
  });
  std::ranges::stable_sort(board.holes, {}, [&](const Hole& hole) { return along(hole.at); });
}

}  // namespace

Board& Joinery::add(Board board) {
  std::string name = board.name;
  return boards_.insert_or_assign(std::move(name), std::move(board)).first->second;
}

ShapedBoard& Joinery::add(ShapedBoard board) {
  std::string name = board.name;
  return shaped_.insert_or_assign(std::move(name), std::move(board)).first->second;
}

std::vector<Hole>* Joinery::holes(const std::string& name) {
  if (const auto found = boards_.find(name); found != boards_.end()) return &found->second.holes;
  if (const auto found = shaped_.find(name); found != shaped_.end()) return &found->second.holes;
  return nullptr;
}

std::pair<double, double> Joinery::wood(const Screw& screw, const std::string& name) const {
  if (const auto found = boards_.find(name); found != boards_.end())
    return crossing(found->second, screw.at, screw.direction);
  const ShapedBoard& board = shaped_.find(name)->second;
  const Shape blank{{{{board.outline, board.sheet->thickness, {}, {}, {}}, {}}}};
  return crossing(bounds(blank), board.frame.local_point(screw.at),
                  board.frame.local_direction(screw.direction));
}

const Bolt& Joinery::bolt_of(const Screw& screw) const {
  return screw.bolt != nullptr ? *screw.bolt
                               : entry(request_.catalogue.bolts, request_.fields.text(screw.field));
}

std::string Joinery::screw(const Screw& screw) {
  const Bolt& bolt = bolt_of(screw);
  const auto [near, far] = wood(screw, screw.into);
  std::vector<Hole>* through = holes(screw.from);
  // In wood every head ends flush; on hardware only a countersunk one does.
  const double sunk = through != nullptr || bolt.countersunk ? bolt.head_height : 0.0;
  Bolt body = bolt;
  if (bolt.countersunk) {  // its length is over all
    body.length -= bolt.head_height;
    body.countersunk = false;
  }
  const double tip = sunk + body.length;
  judge(screw, tip, near, far);

  if (through != nullptr) {
    const double thick = wood(screw, screw.from).second;
    through->push_back(head_recess(bolt, screw.at, screw.direction));
    through->push_back({.at = screw.at,
                        .direction = screw.direction,
                        .diameter = bolt.clearance_hole,
                        .depth = thick,
                        .through = true,
                        .role = BoreRole::screw,
                        .thread = {}});
  }
  holes(screw.into)
      ->push_back({.at = screw.at + screw.direction * near,
                   .direction = screw.direction,
                   .diameter = pilot_diameter(bolt),
                   .depth = std::clamp(tip - near, kCut, far - near),
                   .through = false,
                   .role = BoreRole::pilot,
                   .thread = {}});
  return shop_.add(Fastener{.name = screw.name,
                            .bolt = &body,
                            .at = screw.at + screw.direction * sunk,
                            .direction = screw.direction,
                            .hosts = {screw.from, screw.into}});
}

void Joinery::judge(const Screw& screw, double tip, double near, double far) {
  const Bolt& bolt = bolt_of(screw);
  const auto misfit = [&](const char* fault, double measured, double required) {
    const char* screws = screw.bolt != nullptr ? "joinery.own_screw" : "joinery.screw";
    Finding finding = input_error(std::string(screws) + fault, request_.fields.place(screw.field));
    finding.subjects = {shop_.id(screw.name), request_.name + "." + screw.field};
    finding.source = "common practice, no source";
    finding.with("screw", bolt.key)
        .with("from", screw.from)
        .with("into", screw.into)
        .with("length", bolt.length, Unit::mm)
        .with("measured", measured, Unit::mm)
        .with("required", required, Unit::mm);
    return finding;
  };
  if (tip > far - kScrewSkin + kSame) {
    const double longest = bolt.length - (tip - far) - kScrewSkin;
    keep_worst(misfit("_too_long", bolt.length, longest), screw.field, tip - far);
  }
  const double held = tip - near;
  const double wanted = kScrewHold * bolt.diameter;
  if (held < wanted - kSame) {
    Finding finding = misfit("_too_short", std::max(held, 0.0), wanted);
    if (held > 0.0) finding.severity = Severity::warning;
    keep_worst(std::move(finding), screw.field, wanted - held);
  }
}

void Joinery::keep_worst(Finding finding, const std::string& field, double excess) {
  const auto [at, fresh] = misfits_.try_emplace({finding.code, field});
  if (fresh || excess > at->second.excess) at->second = {excess, std::move(finding)};
}

// Boards that no hardware holds are glued.
void Joinery::join(const std::string& kind, const std::string& a, const std::string& b,
                   std::vector<std::string> hardware) {
  const bool glued = hardware.empty() && holes(a) != nullptr && holes(b) != nullptr;
  shop_.join("joint." + a + ".to." + b, kind, {shop_.id(a), shop_.id(b)}, std::move(hardware));
  shop_.made().joints.back().glued = glued;
}

void Joinery::finish() {
  for (auto& [name, board] : boards_) {
    sort_work(board);
    shop_.add(board);
  }
  for (const auto& [name, board] : shaped_) shop_.add(board);
  tell_misfits();
  boards_.clear();
  shaped_.clear();
}

void Joinery::tell_misfits() {
  for (auto& [key, misfit] : misfits_) shop_.find(std::move(misfit.finding));
  misfits_.clear();
}

}  // namespace ribbay::detail
