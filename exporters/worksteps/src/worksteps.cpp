#include "worksteps/worksteps.hpp"

#include "assembly/doings.hpp"
#include "assembly/torque.hpp"
#include "assembly/words.hpp"
#include "base/text.hpp"
#include "tables/csv.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

namespace {

std::string mm(const Layout& layout, double length) {
  return value_text(length, Unit::mm, layout.project.show);
}

/// "2 nuts into the slot that looks up, from its rear end, in this order: 300 mm, 40 mm from that
/// end".
std::string nuts_text(const Layout& layout, const Doings& doings, const NutRun& run) {
  std::vector<std::string> places;
  for (const double place : run.places) places.push_back(mm(layout, place));
  const std::string count = std::to_string(run.nuts.size());
  return count + (run.nuts.size() == 1 ? " nut" : " nuts") + " into the slot that looks " +
         doings.way(run.slot) + ", from the end that looks " + doings.way(run.from) +
         (run.nuts.size() == 1 ? ": to " : ", in this order: to ") + join(places, ", ") +
         " from that end";
}

/// Writes the text.
class Pages {
 public:
  Pages(const Layout& layout, const AssemblyPlan& plan)
      : layout_(layout), plan_(plan), names_(layout) {}

  std::string text() {
    out_ = "Order of assembly: " + layout_.project.title + "\n\n";
    out_ +=
        "Each step brings one thing straight to its place; what stands before it leaves the way\n"
        "and the room for the tools. Slot nuts go in while their member lies loose. Drive bolts\n"
        "finger-tight until the module is square, then tighten. Gas, electricity and hot water:\n"
        "by local codes and licensed practice; this list orders parts only.\n";
    out_ +=
        lifting_rule(layout_) +
        ".\nWhat is heavier asks for two people or a prop; less suits many people and bad grips.\n";
    for (const AssemblyUnit& unit : plan_.units) add_unit(unit);
    return std::move(out_);
  }

 private:
  void line(const std::string& text) { out_ += "     " + text + "\n"; }

  void add_unit(const AssemblyUnit& unit) {
    out_ += "\n" + unit.title + " (" + unit.name + "), " +
            (unit.bench ? "on the bench" : "in its place in the van") + "\n";
    const Doings doings(layout_, names_, unit);
    line("left, right, front and so on: " + doings.ways_meant());
    for (const std::string& text : doings.of_all()) line(text);
    std::size_t number = 0;
    const std::size_t squared = doings.squared_after();
    for (const AssemblyStep& step : unit.steps) {
      add_step(step, ++number, doings);
      if (number == squared) square(unit, doings);
    }
  }

  void add_step(const AssemblyStep& step, std::size_t number, const Doings& doings) {
    std::string head = std::to_string(number) + ".";
    head.resize(std::max<std::size_t>(head.size(), 4), ' ');
    const std::string what =
        step.parts.size() == 1
            ? names_.part(step.parts.front())
            : step.title + ", " + std::to_string(step.parts.size()) + " parts put together before";
    const auto heavy = lift(layout_, carried(step));
    out_ += " " + head + what + ", " + rounded_text(step.mass_kg, 1) + " kg" +
            (heavy ? ": " + people(heavy) : "") + "\n";
    if (heavy) std::ranges::for_each(doings.carrying(*heavy), [&](const auto& l) { line(l); });
    for (const std::string& text : doings.before(step)) line(text);
    if (!step.straight) {
      line("no straight move was found: tilt it in, or spring it");
    } else if (length(step.first) > 0.5) {
      line("bring it in " + doings.way(step.first) + ", then slide it " +
           doings.way(step.direction) + " over the last " + mm(layout_, step.travel));
    } else if (step.travel > 0.0) {
      line("slide it " + doings.way(step.direction) + " over the last " + mm(layout_, step.travel));
    } else {
      line("set it in its place, moving it " + doings.way(step.direction));
    }
    for (const std::string& text : doings.after(step)) line(text);
  }

  void square(const AssemblyUnit& unit, const Doings& doings) {
    if (unit.name != unit.module) return;
    diagonals(unit);
    torques(unit);
    for (const std::string& text : doings.in_place()) line(text);
    const auto heavy = unit.bench ? lift(layout_, carried(layout_, unit)) : std::nullopt;
    if (heavy) std::ranges::for_each(doings.carrying(*heavy), [&](const auto& l) { line(l); });
  }

  /// What has no rectangle to measure has no such line: a tray of one folded sheet, a partition in
  /// pieces.
  void diagonals(const AssemblyUnit& unit) {
    const auto of_unit = [&](const SquareCheck& check) { return check.module == unit.module; };
    if (std::ranges::none_of(plan_.squares, of_unit)) return;
    out_ +=
        "     Square it up, and measure from the van's floor and centre line; a spirit level "
        "tells\n     only how the van stands:\n";
    for (const SquareCheck& check : plan_.squares) {
      if (!of_unit(check)) continue;
      line("- " + check.view + ": " + mm(layout_, check.width) + " x " + mm(layout_, check.height) +
           " over the outer corners, both diagonals " + mm(layout_, check.diagonal));
      line("  its first corner lies " + mm(layout_, check.from.x) +
           " in front of the rear edge of " + "the floor, " + side(check.from.y) + ", " +
           mm(layout_, check.from.z) + " above the floor");
    }
  }

  std::string side(double y) const {
    return mm(layout_, std::abs(y)) + (y < 0.0 ? " right" : " left") + " of the centre line";
  }

  /// Torques of bolts in slot nuts, by kind.
  void torques(const AssemblyUnit& unit) {
    const std::vector<SlotBolts> bolts = slot_bolts(layout_, unit);
    if (bolts.empty()) return;
    line("Then tighten (VDI 2230, friction " + rounded_text(kFriction, 2) +
         ", no more than a slot nut may be pulled with; less where what is clamped gives way):");
    for (const SlotBolts& each : bolts) {
      const std::string torque =
          each.tight ? rounded_text(each.tight->torque_n_mm / 1000.0, 1) + " N m"
                     : "by the nut's maker: the catalogue does not say what it may be pulled with";
      line("- " + each.bolt + " in " + each.nut + ": " + torque);
    }
  }

  const Layout& layout_;
  const AssemblyPlan& plan_;
  Names names_;
  std::string out_;
};

std::string table(const Layout& layout, const AssemblyPlan& plan) {
  const Names names(layout);
  std::vector<std::vector<std::string>> rows{
      {"unit", "step", "where", "parts", "title", "mark", "way", "travel_mm", "mass_kg", "people",
       "lift", "held", "slot nuts", "on it already", "glued to", "hardware", "fasteners", "tools"}};
  for (const AssemblyUnit& unit : plan.units) {
    int number = 0;
    const Doings doings(layout, names, unit);
    for (const AssemblyStep& step : unit.steps) {
      std::vector<std::string> nuts;
      for (const NutRun& run : step.nuts) nuts.push_back(nuts_text(layout, doings, run));
      std::vector<std::string> hardware = step.hardware;
      hardware.insert(hardware.end(), step.meeting.begin(), step.meeting.end());
      const auto heavy = lift(layout, carried(step));
      rows.push_back(
          {unit.name, std::to_string(++number), unit.bench ? "bench" : "van",
           join(step.parts, "; "), step.title,
           step.parts.size() == 1 ? names.mark(step.parts.front()) : "", doings.comes(step),
           step.straight ? rounded_text(step.travel, 1) : "", rounded_text(step.mass_kg, 2),
           people(heavy), heavy ? join(doings.carrying(*heavy), "; ") : std::string(),
           step.held ? "yes" : "prop it up", join(nuts, "; "), join(names.counted(step.with), "; "),
           join(step.glued, "; "), join(names.counted(hardware), "; "),
           join(names.counted(ids_of(step.fasteners)), "; "), join(tools(step.fasteners), "; ")});
    }
  }
  return csv_text(rows);
}

}  // namespace

OutputFiles assembly_files(const Layout& layout, const AssemblyPlan& plan) {
  if (plan.units.empty()) return {};
  return {{"shop/assembly.txt", Pages(layout, plan).text(),
           "order of assembly, with tools, squareness and torques"},
          {"shop/assembly.csv", table(layout, plan), "order of assembly as a table"}};
}

}  // namespace ribbay
