#include "structure/grips.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "catalogue/threads.hpp"
#include "layout/screw_hold.hpp"
#include "shape/crossing.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string_view>

namespace ribbay {

namespace {

constexpr double kFar = 1e3;        // mm, more than any screw
constexpr double kStandsOut = 2.0;  // turns of the thread behind a nut: common practice, no source
constexpr std::string_view kFloor = "vehicle/floor";

/// A host of a fastener, where the axis crosses it: in mm from the seat of the head, to the tip.
struct Crossed {
  std::string what;
  const Part* part = nullptr;  ///< null: the van's floor
  double from = 0.0;
  double to = 0.0;
};

class Reader {
 public:
  explicit Reader(const Layout& layout) : layout_(layout) {}

  std::optional<Grip> read(const Part& part) {
    const auto found = layout_.catalogue->bolts.find(part.stock.key);
    if (part.kind != PartKind::hardware || found == layout_.catalogue->bolts.end() ||
        found->second.kind == BoltKind::pin)
      return std::nullopt;
    Grip grip{.id = part.id, .layers = {}, .into = {}};
    bolt_ = &found->second;
    seat_ = part.frame.origin;
    along_ = part.frame.z;
    tip_ = bounds(*part.shape).hi.z;
    sunk_ = std::max(0.0, bolt_->length - tip_);
    crossed_.clear();
    of_van_.clear();
    for (const std::string& host : part.hosts) cross(host);
    std::ranges::stable_sort(crossed_, {}, &Crossed::from);
    // A rib or a wall lies behind all of them, and is hollow.
    if (!of_van_.empty()) {
      const double behind = crossed_.empty() ? 0.0 : crossed_.back().to;
      crossed_.push_back({of_van_, nullptr, behind, behind + std::max(tip_ - behind, kFar)});
    }
    const auto nut = std::ranges::find_if(crossed_, [&](const Crossed& each) {
      return each.part != nullptr && layout_.catalogue->nuts.contains(each.part->stock.key);
    });
    if (nut != crossed_.end())
      into_nut(*nut, grip);
    else if (bolt_->kind == BoltKind::machine && !crossed_.empty() &&
             crossed_.back().what == kFloor)
      through_floor(grip);
    else if (bolt_->kind == BoltKind::machine && !of_van_.empty())
      into_rivet_nut(grip);
    else if (bolt_->kind == BoltKind::machine && is_loose())
      take_nut(grip, crossed_.back().to);
    else
      into_material(grip);
    return grip;
  }

 private:
  void cross(const std::string& host) {
    if (host == kFloor) {
      if (along_.z > -kSame) return;
      const double from = seat_.z / -along_.z;
      crossed_.push_back(
          {host, nullptr, from, from + layout_.vehicle->floor_thickness / -along_.z});
      return;
    }
    const Part* part = layout_.find(host);
    if (part == nullptr) {
      if (host.starts_with("vehicle/")) of_van_ = host;
      return;
    }
    // The first stretch that it meets in front of the seat, however the part is divided there.
    std::vector<std::pair<double, double>> spans;
    const Vec3 at = part->frame.local_point(seat_);
    const Vec3 direction = part->frame.local_direction(along_);
    for (const ConvexPiece& piece : pieces_of(*part)) {
      const auto span = crossing(piece, at, direction);
      if (span && span->second > kContact) spans.push_back(*span);
    }
    std::ranges::sort(spans);
    if (spans.empty()) return;
    Crossed whole{host, part, spans.front().first, spans.front().second};
    for (const auto& [from, to] : spans) {
      if (from <= whole.to + kContact) whole.to = std::max(whole.to, to);
    }
    crossed_.push_back(whole);
  }

  const Pieces& pieces_of(const Part& part) {
    // What is wrapped is taken as bare: its film is turned over along the edges of the back alone.
    const Shape& shape = part.flat ? *part.shape : part.body();
    const auto [at, fresh] = pieces_.try_emplace(&shape);
    if (fresh) at->second = pieces(shape);
    return at->second;
  }

  /// What lies before `end`, each once; a head may sit within the first.
  void clamp(double end, Grip& grip) const {
    double from = 0.0;
    for (const Crossed& each : crossed_) {
      const double to = std::min(each.to, end);
      if (each.from > end - kContact || to <= from + kContact) continue;
      grip.layers.push_back({each.what, to - std::max(from, each.from)});
      from = to;
    }
    grip.clamped = std::max(end, 0.0);
  }

  void judge(Grip& grip) const {
    const double length = tip_ + sunk_;
    grip.verdict = length < grip.shortest - kContact                        ? GripVerdict::too_short
                   : grip.longest > 0.0 && length > grip.longest + kContact ? GripVerdict::bottoms
                                                                            : GripVerdict::reaches;
  }

  void into_nut(const Crossed& nut, Grip& grip) const {
    const Slot* slot = nullptr;
    for (const std::string& host : nut.part->hosts) {
      const Part* member = layout_.find(host);
      if (member == nullptr) continue;
      const auto profile = layout_.catalogue->profiles.find(member->stock.key);
      if (profile != layout_.catalogue->profiles.end() && profile->second.slot)
        slot = &*profile->second.slot;
    }
    const double lip = slot == nullptr ? 0.0 : slot->lip;
    clamp(nut.from - lip, grip);
    if (lip > 0.0) grip.layers.push_back({"slot lips", lip});
    grip.clamped = nut.from;
    grip.into = nut.what;
    grip.held = std::clamp(tip_ - nut.from, 0.0, nut.to - nut.from);
    grip.shortest = nut.to + sunk_;
    if (slot != nullptr) grip.longest = nut.from - lip + slot->depth + sunk_;
    judge(grip);
  }

  /// Layers of the floor from the surface down, as the bolt crosses them.
  void clamp_floor(double slope, Grip& grip) const {
    const Vehicle& van = *layout_.vehicle;
    if (van.floor_layers.empty()) {
      grip.layers.push_back({std::string(kFloor), van.floor_thickness * slope});
    }
    for (const FloorLayer& layer : van.floor_layers)
      grip.layers.push_back({"vehicle/" + layer.name, layer.thickness * slope, layer.soft});
  }

  /// What lies under the floor, down to the washer: the joist that it meets, and the plates.
  void clamp_below(Vec2 at, double slope, Grip& grip) const {
    const Vehicle& van = *layout_.vehicle;
    const auto add = [&](std::string what, double thickness) {
      if (thickness <= 0.0) return;
      grip.layers.push_back({std::move(what), thickness * slope});
      grip.clamped += thickness * slope;
    };
    const auto joist =
        std::ranges::find_if(van.joists, [&](const Joist& each) { return over(each, at); });
    if (joist != van.joists.end()) {
      add("vehicle/" + joist->name, joist->flange);
      if (joist->flange <= 0.0) grip.not_counted = joist->name;
    }
    add(std::string(kPlateBelow), van.floor_backing);
  }

  static bool over(const Joist& joist, Vec2 at) {
    const double along = joist.across ? at.y : at.x;
    return std::abs((joist.across ? at.x : at.y) - joist.at) <= joist.width / 2 &&
           along >= joist.from && along <= joist.to;
  }

  void through_floor(Grip& grip) const {
    const Crossed& floor = crossed_.back();
    const double slope = 1.0 / -along_.z;
    clamp(floor.from, grip);
    clamp_floor(slope, grip);
    grip.clamped = floor.to;
    const auto bolt = std::ranges::find(layout_.floor_bolts, grip.id, &FloorBolt::id);
    if (bolt != layout_.floor_bolts.end() && !bolt->hard_point.empty()) {
      grip.into = "vehicle/" + bolt->hard_point;
      grip.held = std::max(0.0, tip_ - grip.clamped);
      grip.shortest = grip.clamped + kSteelThreadHold * bolt_->diameter + sunk_;
      return judge(grip);
    }
    clamp_below(bolt != layout_.floor_bolts.end() ? bolt->at : below(floor), slope, grip);
    grip.under_floor = true;
    turn_on(grip);
  }

  /// True when its last hole lets the whole thread pass.
  bool is_loose() const {
    if (crossed_.empty() || crossed_.back().part == nullptr) return false;
    const Part& part = *crossed_.back().part;
    if (!is_made(part.kind) || part.shape->prisms.empty()) return false;
    const Vec3 at = part.frame.local_point(seat_);
    const Vec3 direction = part.frame.local_direction(along_);
    bool clear = false;
    for (const PlacedPrism& placed : part.shape->prisms) {
      for (const Bore& bore : placed.prism.bores) {
        const Vec3 off = placed.frame.point(bore.at) - at;
        if (std::abs(dot(placed.frame.direction(bore.direction), direction)) < 1.0 - kSame ||
            length(off - direction * dot(off, direction)) > kContact)
          continue;
        if (!bore.thread.empty() || bore.diameter < bolt_->diameter) return false;
        clear = true;
      }
    }
    return clear;
  }

  void take_nut(Grip& grip, double end) const {
    clamp(end, grip);
    turn_on(grip);
  }

  void into_rivet_nut(Grip& grip) const {
    const double from = crossed_.back().from;
    clamp(from, grip);
    grip.thread = "M" + rounded_text(bolt_->diameter, 1);
    grip.riveted = true;
    grip.into = "rivet nut " + grip.thread;
    grip.held = std::max(0.0, tip_ - from);
    grip.shortest = from + kSteelThreadHold * bolt_->diameter + sunk_;
    judge(grip);
  }

  /// A washer and a nut behind all that is clamped.
  void turn_on(Grip& grip) const {
    const std::string size = "M" + rounded_text(bolt_->diameter, 1);
    grip.thread = size;
    // Threads that no table holds: in proportion to M8, from below.
    const MetricThread thread =
        coarse_thread(bolt_->diameter)
            .value_or(MetricThread{bolt_->diameter, bolt_->diameter * 0.16, bolt_->diameter * 0.2,
                                   bolt_->diameter * 0.9});
    grip.layers.push_back({"washer " + size, thread.washer});
    grip.clamped += thread.washer;
    grip.into = "nut " + size;
    grip.held = std::clamp(tip_ - grip.clamped, 0.0, thread.nut);
    grip.shortest = grip.clamped + thread.nut + kStandsOut * thread.pitch + sunk_;
    judge(grip);
  }

  Vec2 below(const Crossed& floor) const {
    const Vec3 at = seat_ + along_ * floor.to;
    return {at.x, at.y};
  }

  void into_material(Grip& grip) const {
    // What holds the thread is what the tip reaches last.
    const auto last =
        std::ranges::find_if(crossed_.rbegin(), crossed_.rend(),
                             [&](const Crossed& each) { return each.from < tip_ - kContact; });
    const bool through_all =
        crossed_.size() > 1 && last != crossed_.rend() && &*last != &crossed_.back();
    const Crossed* into = through_all               ? &crossed_.back()
                          : last == crossed_.rend() ? nullptr
                                                    : &*last;
    if (into == nullptr) return;
    // A wood screw that ends within a fitting was meant for the wood behind it.
    if (bolt_->kind == BoltKind::wood && into->part != nullptr && !is_made(into->part->kind))
      into = &crossed_.back();
    clamp(into->from, grip);
    grip.into = into->what;
    grip.held = std::clamp(tip_ - into->from, 0.0, into->to - into->from);
    const bool wood = bolt_->kind == BoltKind::wood;
    const double hold = (wood ? kScrewHold : kThreadHold) * bolt_->diameter;
    const double floor = into->to - into->from;
    const double wanted = into->part != nullptr || !of_van_.empty() ? hold : std::min(hold, floor);
    grip.shortest = std::max(into->from, 0.0) + sunk_ + wanted;
    const bool hollow = into->part == nullptr || into->part->kind == PartKind::member;
    if (wood && !hollow) grip.longest = into->to + sunk_;
    judge(grip);
  }

  const Layout& layout_;
  std::map<const Shape*, Pieces> pieces_;  // looked up by address, never walked in that order
  const Bolt* bolt_ = nullptr;
  Vec3 seat_;
  Vec3 along_;
  double tip_ = 0.0;
  double sunk_ = 0.0;  ///< of the named length, in the wood above the seat
  std::vector<Crossed> crossed_;
  std::string of_van_;  ///< a body of the van that it is screwed to; empty: none, or the floor
};

}  // namespace

std::string_view name(GripVerdict verdict) {
  switch (verdict) {
    case GripVerdict::reaches:
      return "reaches";
    case GripVerdict::too_short:
      return "too short";
    case GripVerdict::bottoms:
      return "too long";
    case GripVerdict::not_known:
      break;
  }
  return "not known";
}

std::vector<Grip> grips(const Layout& layout) {
  std::vector<Grip> list;
  Reader reader(layout);
  for (const Part& part : layout.parts) {
    if (auto grip = reader.read(part)) list.push_back(std::move(*grip));
  }
  return list;
}

std::vector<Grip> grips(const Layout& layout, const std::vector<std::string>& ids) {
  std::vector<Grip> list;
  Reader reader(layout);
  for (const std::string& id : ids) {
    const Part* part = layout.find(id);
    auto grip = part == nullptr ? std::nullopt : reader.read(*part);
    if (grip) list.push_back(std::move(*grip));
  }
  return list;
}

}  // namespace ribbay
