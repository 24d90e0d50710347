#include "assembly/doings.hpp"

#include "base/ways.hpp"
#include "base/wording.hpp"
#include "catalogue/far_end.hpp"
#include "halves.hpp"
#include "layout/floor_holes.hpp"
#include "layout/front.hpp"
#include "structure/turned_on.hpp"
#include "structure/wall_holes.hpp"

#include <algorithm>
#include <compare>
#include <map>

namespace ribbay {

namespace {

using detail::joint_of;
using detail::opens_by;
using detail::slides;

using Ids = std::vector<std::string>;

bool among(const Ids& ids, const std::string& id) {
  return std::ranges::find(ids, id) != ids.end();
}

/// A hinge whose leaves hang together: it is screwed to one thing, then to the other.
bool hangs_together(const Layout& layout, const Joint& joint) {
  return std::ranges::any_of(joint.hardware, [&](const std::string& id) {
    const Part* part = layout.find(id);
    return part != nullptr && layout.catalogue->butt_hinges.contains(part->stock.key);
  });
}

/// "558, 22 mm".
std::string places_text(const std::vector<double>& places, LengthStyle show) {
  Ids texts;
  for (const double place : places) texts.push_back(length_text(place, show));
  texts.back() = value_text(places.back(), Unit::mm, show);
  return join(texts, ", ");
}

void add_list(const char* key, const Ids& what, Ids& lines) {
  if (!what.empty()) lines.push_back(say(key, {{"what", join(what, ", ")}}));
}

struct HalfKind {
  bool hinge = false;
  bool moves = false;
  bool hung = false;  ///< its other half is there and hangs on it
  friend auto operator<=>(const HalfKind&, const HalfKind&) = default;
};

struct Halves {
  struct Alike {
    std::size_t count = 0;
    Ids titles, screws;
  };
  std::map<HalfKind, Alike> kinds;
  Ids others;  ///< what sits on the thing besides, their screws left out
};

/// The halves of hinges and slides that are screwed to a thing, with their screws.
Halves halves_of(const Layout& layout, const AssemblyStep& step) {
  Halves all{{}, step.with};
  for (const std::string& half : step.halves) {
    const Joint* joint = joint_of(layout, half);
    if (joint == nullptr) continue;
    const Motion* motion = opens_by(layout, *joint);
    const bool met = std::ranges::any_of(
        joint->hardware, [&](const std::string& other) { return among(step.meeting, other); });
    Halves::Alike& alike = all.kinds[{.hinge = !slides(*joint),
                                      .moves = motion != nullptr && among(motion->parts, half),
                                      .hung = met && hangs_together(layout, *joint)}];
    ++alike.count;
    const std::string& title =
        motion != nullptr ? motion->title : layout.find(joint->parts.front())->title;
    if (!among(alike.titles, title)) alike.titles.push_back(title);
    std::erase_if(all.others, [&](const std::string& id) {
      if (!among(layout.find(id)->hosts, half)) return false;
      alike.screws.push_back(id);
      return true;
    });
  }
  return all;
}

/// "H1 to H6, H9": three and more that follow one another are told by their ends.
template <class Hole, class Own>
Ids runs_of(const std::vector<Hole>& holes, Own own) {
  const auto is_own = [&](std::size_t i) { return i < holes.size() && own(holes[i]); };
  Ids runs;
  for (std::size_t first = 0; first < holes.size(); ++first) {
    if (!is_own(first)) continue;
    std::size_t last = first;
    while (is_own(last + 1)) ++last;
    if (last < first + 2) {
      for (std::size_t i = first; i <= last; ++i) runs.push_back(holes[i].name);
    } else {
      runs.push_back(
          say("step.hole_run", {{"first", holes[first].name}, {"last", holes[last].name}}));
    }
    first = last;
  }
  return runs;
}

std::string reason(AfterWhy why) {
  switch (why) {
    case AfterWhy::fixed:
      return say("after.fixed");
    case AfterWhy::stands:
      return say("after.stands");
    case AfterWhy::covers_fixing:
      return say("after.covers_fixing");
    case AfterWhy::closes_way:
      break;
  }
  return say("after.closes_way");
}

using Counts = std::map<std::string, int>;  // by title

/// What is turned onto bolts that are driven and is no part of the layout, by the spanner that its
/// nut takes, mm; 0: not known.
std::map<double, Counts> turned_on_of(const Layout& layout, const std::vector<Driven>& fasteners) {
  Ids bolts;
  for (const Driven& each : fasteners) {
    const auto kind = layout.catalogue->bolts.find(layout.find(each.id)->stock.key);
    if (kind != layout.catalogue->bolts.end() && kind->second.kind == BoltKind::machine)
      bolts.push_back(each.id);
  }
  std::map<double, Counts> all;
  for (const Grip& grip : grips(layout, bolts)) {
    if (grip.riveted) continue;  // told before all steps
    const std::vector<OnBolt> on = on_bolt(layout, grip);
    for (const OnBolt& each : on) ++all[on.back().spanner][each.title];
  }
  return all;
}

Ids counted(const Counts& titles) {
  Ids texts;
  for (const auto& [title, count] : titles) texts.push_back(std::to_string(count) + " x " + title);
  return texts;
}

}  // namespace

Doings::Doings(const Layout& layout, const Names& names, const AssemblyUnit& unit)
    : layout_(layout), names_(names), unit_(unit) {
  const Module* module = layout.module(unit.module);
  front_ = front_way(module == nullptr ? std::string_view() : std::string_view(module->front));
}

std::string Doings::way(Vec3 direction) const {
  return unit_.bench ? own_way_text(direction, front_) : van_way_text(direction);
}

std::string Doings::ways_meant() const {
  return say(unit_.bench ? "step.own_ways" : "step.van_ways");
}

std::string Doings::comes(const AssemblyStep& step) const {
  if (!step.straight) return say("step.tilt");
  if (length(step.first) < 0.5) return way(step.direction);
  return say("step.bend", {{"first", way(step.first)}, {"then", way(step.direction)}});
}

std::vector<std::string> Doings::carrying(const Lift& lift) const {
  return lift_lines(layout_, lift, unit_.bench ? std::optional(front_) : std::nullopt);
}

std::vector<std::string> Doings::of_all() const {
  Ids lines;
  for (const AfterModule& each : unit_.after) {
    const Module* module = layout_.module(each.module);
    const bool titled = module != nullptr && !module->title.empty();
    lines.push_back(say("step.after", {{"module", titled ? module->title : each.module},
                                       {"why", reason(each.why)}}));
  }
  add_holes(lines);
  add_wall_holes(lines);
  const auto any = [&](auto test) { return std::ranges::any_of(unit_.steps, test); };
  if (any([](const AssemblyStep& step) { return !step.glued.empty(); }))
    lines.push_back(say("step.needs_glue"));
  if (any([](const AssemblyStep& step) { return !step.nuts.empty(); }))
    lines.push_back(say("step.finger_tight"));
  const auto falls = [](const NutRun& run) { return std::abs(run.from.z) > 0.5; };
  if (any([&](const AssemblyStep& step) { return std::ranges::any_of(step.nuts, falls); }))
    lines.push_back(say("step.nuts_fall"));
  return lines;
}

/// The holes of its module in the van's floor: drilled before anything of it stands there.
void Doings::add_holes(Ids& lines) const {
  if (!layout_.vehicle || unit_.name != unit_.module) return;
  const Ids runs = runs_of(floor_holes(layout_), [&](const FloorHole& hole) {
    return hole.bolt.id.starts_with(unit_.module + "/");
  });
  if (runs.empty()) return;
  lines.push_back(
      say("step.drill_floor", {{"holes", join(runs, ", ")}, {"sheet", say("title.floor")}}));
}

/// The same in its ribs and bows: rivet nuts stand there before the bolts come, other holes are
/// drilled.
void Doings::add_wall_holes(Ids& lines) const {
  if (unit_.name != unit_.module || !layout_.catalogue) return;
  if (std::ranges::none_of(layout_.parts, [&](const Part& part) {
        return part.module == unit_.module && layout_.catalogue->bolts.contains(part.stock.key) &&
               std::ranges::any_of(part.hosts, [](const std::string& host) {
                 return host.starts_with("vehicle/");
               });
      }))
    return;
  const std::vector<WallHole> holes = wall_holes(layout_);
  Counts nuts;
  for (const WallHole& hole : holes) {
    if (!hole.rivet_nut.empty() && hole.module == unit_.module)
      ++nuts[say("on_bolt.rivet_nut", {{"size", hole.rivet_nut}})];
  }
  const auto places = [&](bool riveted) {
    return join(runs_of(holes,
                        [&](const WallHole& hole) {
                          return hole.module == unit_.module && hole.rivet_nut.empty() != riveted;
                        }),
                ", ");
  };
  if (!nuts.empty())
    lines.push_back(say("step.set_rivet_nuts", {{"what", join(counted(nuts), ", ")},
                                                {"holes", places(true)},
                                                {"sheet", say("title.walls")}}));
  if (const std::string drilled = places(false); !drilled.empty())
    lines.push_back(say("step.drill_walls", {{"holes", drilled}, {"sheet", say("title.walls")}}));
}

std::vector<std::string> Doings::before(const AssemblyStep& step) const {
  Ids lines;
  if (step.parts.size() == 1) {
    add_nuts(step, lines);
    add_halves(step, false, lines);
    add_list("step.already", names_.counted(halves_of(layout_, step).others), lines);
  }
  add_list("step.fix_fitting", names_.counted(through_own_holes(step)), lines);
  Ids to;
  for (const std::string& id : step.glued) {
    const std::string mark = names_.mark(id);
    to.push_back(mark.empty() ? names_.brief(id) : mark);
  }
  add_list("step.glue", to, lines);
  return lines;
}

/// Slots that look different ways and get theirs from the same end to the same places share a line.
void Doings::add_nuts(const AssemblyStep& step, Ids& lines) const {
  struct Alike {
    Ids nuts, ways;
  };
  std::map<std::pair<std::string, std::string>, Alike> runs;
  for (const NutRun& run : step.nuts) {
    Alike& alike = runs[{way(run.from), places_text(run.places, layout_.project.show)}];
    alike.nuts.insert(alike.nuts.end(), run.nuts.begin(), run.nuts.end());
    const std::string looks = way(run.slot);
    if (!among(alike.ways, looks)) alike.ways.push_back(looks);
  }
  for (const auto& [where, alike] : runs) {
    lines.push_back(say("step.nuts", {{"what", join(names_.counted(alike.nuts), ", ")},
                                      {"ways", join(alike.ways, ", ")},
                                      {"from", where.first},
                                      {"places", where.second}}));
  }
}

void Doings::add_halves(const AssemblyStep& step, bool hung, Ids& lines) const {
  for (const auto& [which, alike] : halves_of(layout_, step).kinds) {
    if (which.hung != hung) continue;
    const bool one = alike.count == 1;
    const char* halves =
        which.hinge ? (one ? "half.hinge" : "half.hinges") : (one ? "half.slide" : "half.slides");
    lines.push_back(
        say(hung ? "step.screw_hinge" : "step.screw_on",
            {{"what", say(which.moves ? "half.moving" : "half.fixed",
                          {{"halves", say(halves)}, {"titles", join(alike.titles, ", ")}})},
             {"screws", join(names_.counted(alike.screws), ", ")}}));
  }
}

std::vector<std::string> Doings::after(const AssemblyStep& step) const {
  Ids lines;
  if (const std::string hold = holding(layout_, step); !hold.empty()) lines.push_back(hold);
  add_laid_in(step, lines);
  add_meeting(step, lines);
  if (step.parts.size() == 1) add_halves(step, true, lines);
  add_driven(step.fasteners, "step.drive", lines);
  if (layout_.find(step.parts.front())->kind == PartKind::equipment)
    lines.push_back(say("step.licensed"));
  return lines;
}

/// Fittings that no fastener of the layout holds are fixed through their own holes: before, for
/// what they sit on may hide them.
std::vector<std::string> Doings::through_own_holes(const AssemblyStep& step) const {
  Ids own;
  for (const std::string& id : step.hardware) {
    const Part* part = layout_.find(id);
    if (part != nullptr && fixed_by_own_holes(layout_, *part)) own.push_back(id);
  }
  return own;
}

void Doings::add_laid_in(const AssemblyStep& step, Ids& lines) const {
  const Ids own = through_own_holes(step);
  Ids others;
  for (const std::string& id : step.hardware) {
    if (!among(own, id)) others.push_back(id);
  }
  add_list("step.lay_in", names_.counted(others), lines);
}

void Doings::add_meeting(const AssemblyStep& step, Ids& lines) const {
  Ids of_slides, of_hinges;
  for (const std::string& half : step.meeting) {
    const Joint* joint = joint_of(layout_, half);
    (joint != nullptr && slides(*joint) ? of_slides : of_hinges).push_back(half);
  }
  const auto add = [&](const Ids& halves, const char* key, const char* counted_key) {
    const Ids counted = names_.counted(halves);
    if (!counted.empty())
      add_list(counted_key, counted, lines);
    else if (!halves.empty())
      lines.push_back(say(key));
  };
  add(of_slides, "step.join_slides", "step.join_counted_slides");
  add(of_hinges, "step.join_hinges", "step.join_counted_hinges");
}

/// Counted by what they are driven through and which way; those in bought hardware, which shows it,
/// by their titles alone.
std::vector<std::string> Doings::driven_through(const Ids& fasteners) const {
  std::map<std::string, std::string> through;  // by fastener
  for (const Grip& grip : grips(layout_, fasteners)) {
    std::string mark;
    for (const GripLayer& layer : grip.layers) {
      if (mark.empty()) mark = names_.mark(layer.what);
    }
    if (!mark.empty())
      through[grip.id] =
          say("step.through", {{"way", way(layout_.find(grip.id)->frame.z)}, {"mark", mark}});
  }
  std::vector<std::pair<std::string, Ids>> alike;  // in the order of the fasteners
  for (const std::string& id : fasteners) {
    const auto found = std::ranges::find(alike, through[id], [](const auto& a) { return a.first; });
    if (found == alike.end())
      alike.push_back({through[id], {id}});
    else
      found->second.push_back(id);
  }
  Ids all;
  for (const auto& [how, ids] : alike) {
    for (const std::string& each : names_.counted(ids))
      all.push_back(how.empty() ? each : each + " " + how);
  }
  return all;
}

void Doings::add_driven(const std::vector<Driven>& fasteners, const char* key, Ids& lines) const {
  add_list(key, driven_through(ids_of(fasteners)), lines);
  add_list("step.with", tools(fasteners), lines);
  for (const auto& [spanner, titles] : turned_on_of(layout_, fasteners)) {
    const char* how = spanner > 0.0 ? "step.turn_on_spanner" : "step.turn_on";
    lines.push_back(say(how, {{"what", join(counted(titles), ", ")},
                              {"who", say(unit_.bench ? "step.who_holds" : "step.who_holds_far")},
                              {"size", rounded_text(spanner, 1)}}));
  }
}

namespace {

/// True of a module with stays whose far ends are screwed on when what they hold open hangs.
bool has_far_ends(const Layout& layout, const std::string& module) {
  return layout.catalogue && std::ranges::any_of(layout.parts, [&](const Part& part) {
           const auto fitting = layout.catalogue->fittings.find(part.stock.key);
           return part.module == module && fitting != layout.catalogue->fittings.end() &&
                  std::ranges::any_of(fitting->second.holes, is_far_end);
         });
}

}  // namespace

std::size_t Doings::squared_after() const {
  const auto is_equipment = [&](const AssemblyStep& step) {
    const Part* part = layout_.find(step.parts.front());
    return part != nullptr && part->kind == PartKind::equipment;
  };
  const auto is_fixed = [&](const AssemblyStep& step) {
    return std::ranges::any_of(unit_.fixings, [&](const Driven& each) {
      return std::ranges::any_of(step.parts, [&](const std::string& id) {
        return among(layout_.find(each.id)->hosts, id);
      });
    });
  };
  const auto is_loose = [&](const AssemblyStep& step) {
    return step.fasteners.empty() && step.hardware.empty() && step.meeting.empty() &&
           step.glued.empty() && !is_fixed(step);
  };
  std::size_t made = unit_.steps.size();
  for (std::size_t i = made; i > 1; --i) {
    if (is_equipment(unit_.steps[i - 1]))
      made = i - 1;
    else if (!is_loose(unit_.steps[i - 1]))
      break;
  }
  return made;
}

std::vector<std::string> Doings::squaring(const AssemblyPlan& plan) const {
  Ids lines;
  if (unit_.name != unit_.module) return lines;
  const LengthStyle show = layout_.project.show;
  for (const SquareCheck& check : plan.squares) {
    if (check.module == unit_.name)
      lines.push_back(say("step.square", {{"view", check.view},
                                          {"width", length_text(check.width, show)},
                                          {"height", length_text(check.height, show)},
                                          {"diagonal", length_text(check.diagonal, show)}}));
  }
  for (const SlotBolts& each : slot_bolts(layout_, unit_))
    lines.push_back(say("step.tighten",
                        {{"bolt", each.bolt}, {"nut", each.nut}, {"torque", torque_text(each)}}));
  return lines;
}

std::vector<std::string> Doings::in_place() const {
  Ids lines;
  if (unit_.name != unit_.module) return lines;
  if (unit_.bench) {
    const auto heavy = lift(layout_, carried(layout_, unit_));
    lines.push_back(say("step.bring_in",
                        {{"mass", rounded_text(unit_.carried_kg, 1)}, {"people", people(heavy)}}));
  }
  add_list("step.put_up", names_.counted(unit_.put_up), lines);
  add_driven(unit_.fixings, "step.drive_in_place", lines);
  if (has_far_ends(layout_, unit_.module)) lines.push_back(say("step.far_ends"));
  return lines;
}

std::string torque_text(const SlotBolts& bolts) {
  return bolts.tight
             ? say("bench.torque", {{"torque", rounded_text(bolts.tight->torque_n_mm / 1000.0, 1)}})
             : say("bench.torque_unknown");
}

std::string heavy_text(const Layout& layout, const AssemblyStep& step) {
  const auto heavy = lift(layout, carried(step));
  if (!heavy) return {};
  return say("step.heavy", {{"mass", rounded_text(step.mass_kg, 0)}, {"people", people(heavy)}});
}

}  // namespace ribbay
