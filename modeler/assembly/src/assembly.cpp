#include "assembly/assembly.hpp"

#include "assembly/lifting.hpp"
#include "layout/removals.hpp"
#include "module_order.hpp"
#include "nuts.hpp"
#include "stage.hpp"
#include "take_apart.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace ribbay {

namespace {

using namespace detail;

/// So many parts are named in a finding.
constexpr std::size_t kMostNamed = 6;

/// A note of what could not be shown to go.
Finding unproven(std::string code, std::vector<std::string> subjects) {
  Finding finding;
  finding.code = std::move(code);
  finding.severity = Severity::note;
  finding.status = Status::not_proven;
  finding.subjects = std::move(subjects);
  return finding;
}

/// Hardware of its steps and fixings.
std::set<std::string_view> told_by(const AssemblyUnit& unit) {
  std::set<std::string_view> all;
  for (const Driven& each : unit.fixings) all.insert(each.id);
  for (const AssemblyStep& step : unit.steps) {
    for (const auto* ids : {&step.with, &step.halves, &step.hardware, &step.meeting})
      all.insert(ids->begin(), ids->end());
    for (const Driven& each : step.fasteners) all.insert(each.id);
    for (const NutRun& run : step.nuts) all.insert(run.nuts.begin(), run.nuts.end());
  }
  return all;
}

using Groups = std::vector<std::vector<std::size_t>>;

/// True of equipment that is taken out together with what it stands on, which is among the parts.
bool comes_with(const Layout& layout, const std::string& equipment,
                const std::vector<std::string>& parts) {
  return std::ranges::any_of(layout.removals, [&](const Removal& removal) {
    return removal.id == equipment && std::ranges::any_of(removal.along, [&](const auto& id) {
             return std::ranges::find(parts, id) != parts.end();
           });
  });
}

/// The parts of one module, hardware left out, and what of them moves as one: equipment comes to it
/// later, unless it is taken out along with it.
struct ModuleGroups {
  Groups groups;
  std::vector<const Motion*> motions;  ///< of the first groups
};

ModuleGroups groups_of(const Layout& layout, const std::string& module) {
  ModuleGroups result;
  std::vector<bool> taken(layout.parts.size(), false);
  const auto loose = [&](std::size_t i) {
    const Part& part = layout.parts[i];
    return part.module == module && part.kind != PartKind::hardware && !taken[i];
  };
  for (const Motion& motion : layout.motions) {
    std::vector<std::size_t> group;
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      const Part& part = layout.parts[i];
      if (loose(i) && std::ranges::find(motion.parts, part.id) != motion.parts.end() &&
          (part.kind != PartKind::equipment || comes_with(layout, part.id, motion.parts)))
        group.push_back(i);
    }
    // By the first it is known what a thing is.
    std::ranges::stable_partition(
        group, [&](std::size_t i) { return layout.parts[i].kind != PartKind::equipment; });
    if (group.size() < 2) continue;
    for (const std::size_t i : group) taken[i] = true;
    result.groups.push_back(std::move(group));
    result.motions.push_back(&motion);
  }
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (loose(i)) result.groups.push_back({i});
  }
  return result;
}

/// A unit that comes as one thing.
struct MadeBefore {
  std::string title;
  std::string unit;
};

/// By its motion; with equipment on it by its module, for that has a long name.
std::string title_of(const Layout& layout, const std::vector<std::size_t>& group,
                     const Motion& motion) {
  const Part& last = layout.parts[group.back()];
  const Module* module = layout.module(last.module);
  return last.kind == PartKind::equipment && module != nullptr ? module->title + ", loaded"
                                                               : motion.title;
}

std::vector<MadeBefore> made_before(const Layout& layout, const ModuleGroups& made) {
  std::vector<MadeBefore> all;
  for (std::size_t i = 0; i < made.motions.size(); ++i)
    all.push_back({title_of(layout, made.groups[i], *made.motions[i]), made.motions[i]->id});
  return all;
}

/// Things that no straight move brings in, and bolts that no tool reaches.
std::size_t faults(const std::vector<Move>& moves) {
  std::size_t count = 0;
  for (const Move& move : moves) {
    count += move.straight ? 0 : 1;
    count +=
        static_cast<std::size_t>(std::ranges::count(move.items, Reach::none, &Move::Undone::reach));
  }
  return count;
}

bool is_equipment(const Layout& layout, const std::vector<std::size_t>& group) {
  return layout.parts[group.front()].kind == PartKind::equipment;
}

/// True when its parts hang together without the van.
bool hangs_together(const Stage& stage) {
  std::vector<bool> seen(stage.units.size(), false);
  std::vector<std::size_t> open;
  std::size_t count = 0;
  std::size_t wanted = 0;
  for (std::size_t i = 0; i < stage.units.size(); ++i) {
    if (is_equipment(stage.bench.layout, stage.units[i].parts)) continue;
    ++wanted;
    if (open.empty() && count == 0) {
      open.push_back(i);
      seen[i] = true;
    }
    while (!open.empty()) {
      const std::size_t at = open.back();
      open.pop_back();
      if (!is_equipment(stage.bench.layout, stage.units[at].parts)) ++count;
      for (const std::size_t other : stage.joined[at]) {
        if (!seen[other]) open.push_back(other);
        seen[other] = true;
      }
    }
  }
  return count == wanted;
}

/// True when a box of its size, carried straight, passes one of the van's doors.
bool passes_a_door(const Layout& layout, Vec3 size) {
  if (!layout.vehicle || layout.vehicle->openings.empty()) return true;
  std::array<double, 3> sides{size.x, size.y, size.z};
  std::ranges::sort(sides);
  return std::ranges::any_of(layout.vehicle->openings, [&](const Opening& door) {
    const auto [least, most] = std::minmax({door.to - door.from, door.top - door.bottom});
    return sides[0] <= least && sides[1] <= most;
  });
}

/// True when a box is turned in the van to lie as it does here, or comes so through a door of the
/// rear: what reaches from wall to wall does neither. What else stands there is not looked at.
bool finds_its_place(const Layout& layout, const Box& box) {
  if (!layout.vehicle || layout.vehicle->openings.empty()) return true;
  const Vehicle& van = *layout.vehicle;
  const Vec3 size = box.size();
  const Vec3 middle = box.centre();
  const auto fits = [&](double width, double x0, double x1, double z0, double z1) {
    const auto clear = clear_width(van, std::max(x0, van.x_min()), std::min(x1, van.x_max()),
                                   std::max(z0, 0.0), z1);
    return clear && width <= clear->width();
  };
  const double level = std::hypot(size.x, size.y) / 2;
  const double upright = std::hypot(size.y, size.z) / 2;
  return fits(2 * level, middle.x - level, middle.x + level, box.lo.z, box.hi.z) ||
         (middle.z >= upright &&
          fits(2 * upright, box.lo.x, box.hi.x, middle.z - upright, middle.z + upright)) ||
         std::ranges::any_of(van.openings, [&](const Opening& door) {
           return door.kind == OpeningKind::rear && size.y <= door.to - door.from &&
                  size.z <= door.top - door.bottom &&
                  fits(size.y, van.x_min(), box.hi.x, box.lo.z, box.hi.z);
         });
}

/// True when it can be carried to where it stands.
bool comes_in(const Layout& layout, const Box& box) {
  return passes_a_door(layout, box.size()) && finds_its_place(layout, box);
}

class Planner {
 public:
  explicit Planner(const Layout& layout) : layout_(layout), bench_(layout) {}

  AssemblyPlan run() {
    for (const OrderedModule& next : module_order(bench_)) {
      plan_module(*next.module, next.after);
      stand(next.module->name);
    }
    return std::move(plan_);
  }

 private:
  void plan_module(const Module& module, const std::vector<AfterModule>& after) {
    const ModuleGroups made = groups_of(layout_, module.name);
    if (made.groups.empty()) return;
    for (std::size_t i = 0; i < made.motions.size(); ++i) {
      Groups singles;
      for (const std::size_t part : made.groups[i]) singles.push_back({part});
      AssemblyUnit unit{.name = made.motions[i]->id,
                        .title = title_of(layout_, made.groups[i], *made.motions[i]),
                        .module = module.name,
                        .steps = {},
                        .fixings = {}};
      const Stage stage(bench_, singles);
      add_steps(unit, stage, take_apart(stage), {});
      plan_.units.push_back(std::move(unit));
    }
    AssemblyUnit unit{.name = module.name,
                      .title = module.title.empty() ? module.name : module.title,
                      .module = module.name,
                      .steps = {},
                      .fixings = {},
                      .after = after};
    const Stage loose(bench_, made.groups);
    Groups whole(1);
    Box frame;
    for (const detail::Group& each : loose.units) {
      if (is_equipment(layout_, each.parts)) continue;
      whole[0].insert(whole[0].end(), each.parts.begin(), each.parts.end());
      frame.add(each.box);
    }
    unit.bench = !frame.empty() && hangs_together(loose) && comes_in(layout_, frame);
    if (unit.bench) {
      const Stage fixed(bench_, whole, standing_);
      const std::vector<Move::Undone> fixings = fixing_tools(fixed);
      unit.bench = std::ranges::none_of(
          fixings, [](const Move::Undone& each) { return each.reach == Reach::none; });
      for (const Move::Undone& each : fixings) {
        if (unit.bench) unit.fixings.push_back(driven(fixed, each));
      }
    }
    unit.carried_kg = mass_of(layout_, carried(layout_, unit));
    if (unit.bench)
      add_steps(unit, loose, take_apart(loose), made_before(layout_, made));
    else
      add_in_place(unit, made);
    add_put_up(unit);
    plan_.units.push_back(std::move(unit));
    std::ranges::move(square_checks(bench_, module.name), std::back_inserter(plan_.squares));
  }

  /// What comes later meets it in the van.
  void stand(const std::string& module) {
    for (std::size_t i = 0; i < layout_.parts.size(); ++i) {
      const Part& part = layout_.parts[i];
      if (part.module == module) standing_.push_back(i);
    }
  }

  /// Its hardware that comes with no step.
  void add_put_up(AssemblyUnit& unit) const {
    std::set<std::string_view> told = told_by(unit);
    for (const AssemblyUnit& before : plan_.units) {
      if (before.module == unit.module) told.merge(told_by(before));
    }
    for (std::size_t i = 0; i < layout_.parts.size(); ++i) {
      const Part& part = layout_.parts[i];
      if (part.module != unit.module || part.kind != PartKind::hardware || told.contains(part.id))
        continue;
      if (const Bolt* bolt = bench_.bolt(i))
        unit.fixings.push_back({part.id, tool_for(*bolt), Reach::straight});
      else
        unit.put_up.push_back(part.id);
    }
  }

  /// Put together where it stays. Where that leaves a tool or a straight move no room, its frame is
  /// put together on the bench first, when that leaves more; all of it, or all but one part that
  /// would close it before its fixings are driven.
  void add_in_place(AssemblyUnit& unit, const ModuleGroups& made) {
    const Stage stage(bench_, made.groups, standing_);
    const std::vector<Move> moves = take_apart(stage);
    const std::size_t least = faults(moves);
    if (least > 0) {
      if (const auto frame = best_frame(made, least)) return add_with_frame(unit, made, *frame);
    }
    add_steps(unit, stage, moves, made_before(layout_, made));
  }

  /// A frame that is put together on the bench, and what then comes in the van.
  struct Framed {
    Groups singles;  ///< of the frame
    Groups placed;   ///< what moves, the frame, the rest
    std::vector<Move> on_bench{};
    std::vector<Move> in_place{};
    std::size_t faults = 0;
  };

  /// The frame that leaves the fewest faults, fewer than `faults_without`: all of it before all but
  /// one part, what is light left out before what is heavy.
  std::optional<Framed> best_frame(const ModuleGroups& made, std::size_t faults_without) const {
    std::optional<Framed> best;
    const auto take = [&](std::optional<std::size_t> left_out) {
      auto frame = framed(made, left_out, best ? best->faults : faults_without);
      if (frame) best = std::move(frame);
    };
    take(std::nullopt);
    std::vector<std::size_t> lightest;
    for (std::size_t i = made.motions.size(); i < made.groups.size(); ++i) {
      if (!is_equipment(layout_, made.groups[i])) lightest.push_back(i);
    }
    std::ranges::stable_sort(
        lightest, {}, [&](std::size_t i) { return layout_.parts[made.groups[i].front()].mass_kg; });
    for (std::size_t i = 0; i < lightest.size() && !(best && best->faults == 0); ++i)
      take(lightest[i]);
    return best;
  }

  /// Nothing when it has as many faults as `limit`, or more.
  std::optional<Framed> framed(const ModuleGroups& made, std::optional<std::size_t> left_out,
                               std::size_t limit) const {
    Framed frame{.singles = {},
                 .placed = {made.groups.begin(), made.groups.begin() + std::ssize(made.motions)}};
    frame.placed.emplace_back();
    for (std::size_t i = made.motions.size(); i < made.groups.size(); ++i) {
      const std::vector<std::size_t>& group = made.groups[i];
      if (is_equipment(layout_, group) || i == left_out) {
        frame.placed.push_back(group);
      } else {
        frame.singles.push_back(group);
        frame.placed[made.motions.size()].push_back(group.front());
      }
    }
    if (frame.singles.size() < 2) return std::nullopt;
    const Stage loose(bench_, frame.singles);
    if (!hangs_together(loose) || !comes_in(layout_, loose.box)) return std::nullopt;
    frame.in_place = take_apart(Stage(bench_, frame.placed, standing_));
    frame.faults = faults(frame.in_place);
    if (frame.faults >= limit) return std::nullopt;
    frame.on_bench = take_apart(loose);
    frame.faults += faults(frame.on_bench);
    return frame.faults < limit ? std::optional(std::move(frame)) : std::nullopt;
  }

  void add_with_frame(AssemblyUnit& unit, const ModuleGroups& made, const Framed& frame) {
    AssemblyUnit first{.name = unit.name + "/frame",
                       .title = unit.title + ", frame",
                       .module = unit.module,
                       .steps = {},
                       .fixings = {}};
    add_steps(first, Stage(bench_, frame.singles), frame.on_bench, {});
    std::vector<MadeBefore> before = made_before(layout_, made);
    before.push_back({first.title, first.name});
    plan_.units.push_back(std::move(first));
    add_steps(unit, Stage(bench_, frame.placed, standing_), frame.in_place, before);
  }

  /// `before` are units that were put together before: of the first groups of the stage.
  void add_steps(AssemblyUnit& unit, const Stage& stage, const std::vector<Move>& moves,
                 const std::vector<MadeBefore>& before) {
    std::vector<bool> there(stage.units.size(), false);
    for (const Move& move : moves) {
      AssemblyStep step = step_of(stage, move);
      if (move.unit < before.size()) {
        step.title = before[move.unit].title;
        step.unit = before[move.unit].unit;
      }
      for (const std::size_t other : stage.joined[move.unit]) {
        if (!there[other]) {
          step.held_later = true;
          continue;
        }
        for (const std::size_t part : stage.units[other].parts)
          step.joined.push_back(layout_.parts[part].id);
      }
      add_glued(step);
      there[move.unit] = true;
      unit.steps.push_back(std::move(step));
    }
    tell(unit, stage, moves);
  }

  /// Parts before it that a glued joint holds it to, in the order of the layout's joints.
  void add_glued(AssemblyStep& step) const {
    const auto among = [](const std::vector<std::string>& ids, const std::string& id) {
      return std::ranges::find(ids, id) != ids.end();
    };
    for (const Joint& joint : layout_.joints) {
      if (!joint.glued || std::ranges::none_of(joint.parts, [&](const std::string& id) {
            return among(step.parts, id);
          }))
        continue;
      for (const std::string& id : joint.parts) {
        if (among(step.joined, id) && !among(step.glued, id)) step.glued.push_back(id);
      }
    }
  }

  Driven driven(const Stage& stage, const Move::Undone& how) const {
    const Item& item = stage.items[how.item];
    return {layout_.parts[item.part].id, tool_for(*item.bolt), how.reach};
  }

  AssemblyStep step_of(const Stage& stage, const Move& move) const {
    const Group& unit = stage.units[move.unit];
    AssemblyStep step{.parts = {},
                      .title = unit.title,
                      .unit = {},
                      .with = {},
                      .halves = {},
                      .direction = -move.way,
                      .travel = move.travel,
                      .clear = move.clear,
                      .first = -move.then,
                      .nuts = nut_runs(bench_, unit),
                      .hardware = {},
                      .meeting = {},
                      .fasteners = {},
                      .joined = {},
                      .glued = {},
                      .straight = move.straight,
                      .held = move.held,
                      .mass_kg = unit.mass_kg};
    for (const std::size_t part : unit.parts) {
      step.parts.push_back(layout_.parts[part].id);
      for (const std::size_t half : bench_.halves_on[part]) {
        step.halves.push_back(layout_.parts[half].id);
        // Riders are weighed with their unit; halves that meet others of the module are not.
        if (std::ranges::find(unit.riders, half) == unit.riders.end())
          step.mass_kg += layout_.parts[half].mass_kg;
      }
    }
    for (const std::size_t rider : unit.riders) {
      if (!bench_.is_nut(rider) && !bench_.half[rider])
        step.with.push_back(layout_.parts[rider].id);
    }
    for (const Move::Undone& undone : move.items) {
      const Item& item = stage.items[undone.item];
      if (item.bolt != nullptr)
        step.fasteners.push_back(driven(stage, undone));
      else
        (bench_.half[item.part] ? step.meeting : step.hardware)
            .push_back(layout_.parts[item.part].id);
    }
    return step;
  }

  void tell(const AssemblyUnit& unit, const Stage& stage, const std::vector<Move>& moves) {
    std::vector<Move::Undone> all;
    std::vector<std::string> stuck;
    std::vector<std::string> by;
    for (const Move& move : moves) {
      std::ranges::copy(move.items, std::back_inserter(all));
      if (move.straight) continue;
      stuck.push_back(layout_.parts[stage.units[move.unit].parts.front()].id);
      for (const std::string& name : move.stoppers) {
        if (std::ranges::find(by, name) == by.end()) by.push_back(name);
      }
    }
    tell_tools(unit, stage, all);
    if (stuck.empty()) return;
    const std::size_t count = stuck.size();
    stuck.resize(std::min(stuck.size(), kMostNamed));
    by.resize(std::min(by.size(), kMostNamed));
    plan_.findings.push_back(unproven("assembly.interlock", stuck)
                                 .with("unit", unit.name)
                                 .with("count", static_cast<double>(count), Unit::count)
                                 .with("stuck", join(stuck, ", "))
                                 .with("by", join(by, ", ")));
  }

  void tell_tools(const AssemblyUnit& unit, const Stage& stage,
                  const std::vector<Move::Undone>& items) {
    std::vector<std::string> hidden;
    std::string by;
    for (const Move::Undone& undone : items) {
      if (undone.reach != Reach::none) continue;
      hidden.push_back(layout_.parts[stage.items[undone.item].part].id);
      if (by.empty()) by = undone.stopper;
    }
    if (hidden.empty()) return;
    std::ranges::sort(hidden);
    const auto count = static_cast<double>(hidden.size());
    hidden.resize(std::min(hidden.size(), kMostNamed));
    plan_.findings.push_back(unproven("assembly.tool", hidden)
                                 .with("unit", unit.name)
                                 .with("count", count, Unit::count)
                                 .with("hidden", join(hidden, ", "))
                                 .with("by", by));
  }

  const Layout& layout_;
  Workbench bench_;
  std::vector<std::size_t> standing_;  ///< parts of the modules that have gone in
  AssemblyPlan plan_;
};

}  // namespace

AssemblyPlan plan_assembly(const Layout& layout) {
  return Planner(layout).run();
}

}  // namespace ribbay
