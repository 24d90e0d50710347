#include "base/tolerance.hpp"
#include "hatch_parts.hpp"
#include "lining_piece.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace ribbay::detail {

namespace {

/// Panels that line a wall or the roof: in one or more pieces along the van, each a chain of flats
/// that follows the van over its own length.
class Lining {
 public:
  explicit Lining(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        surface_{request, request.fields.text("surface") == "roof"},
        plan_{request, surface_, entry(request.catalogue.sheets, request.fields.text("sheet"))} {
    plan_.gap = r_.fields.table("place").number("gap");
    plan_.bend_radius = r_.fields.number_if("bend_radius").value_or(plan_.sheet.flex_radius);
  }

  ModuleParts make() {
    if (!has_its_back_to_the_wall() || !is_free() || !read_seams()) return shop_.finish();
    check_gap();
    read_openings();
    const Allowance all = read_scribe();
    const double half = r_.fields.number("seam_gap") / 2;
    for (std::size_t i = 0; i + 1 < seams_.size(); ++i) {
      const bool first = i == 0;
      const bool last = i + 2 == seams_.size();
      Allowance allowance = all;
      if (!first) allowance.left = 0.0;
      if (!last) allowance.right = 0.0;
      LiningPiece(plan_, shop_, "piece_" + std::to_string(i + 1),
                  first ? seams_[i] : seams_[i] + half, last ? seams_[i + 1] : seams_[i + 1] - half,
                  allowance)
          .make();
    }
    return shop_.finish();
  }

 private:
  Finding fault(const char* code, const Place& place) const {
    Finding finding = input_error(code, place);
    finding.subjects = {r_.name};
    return finding;
  }

  bool has_its_back_to_the_wall() {
    const std::string& faces = r_.fields.text("faces");
    bool good = true;
    if (faces != "left" && faces != "right") {
      shop_.find(fault("lining.faces", r_.fields.place("faces")).with("found", faces));
      good = false;
    }
    const double flex = plan_.sheet.flex_radius;
    if (plan_.bend_radius < flex - kSame) {
      shop_.find(fault("lining.bend_radius", r_.fields.place("bend_radius"))
                     .with("stock", plan_.sheet.key)
                     .with("measured", plan_.bend_radius, Unit::mm)
                     .with("required", flex, Unit::mm));
      good = false;
    }
    return good;
  }

  /// Wheel arches and door openings cannot be lined over.
  bool is_free() {
    if (surface_.roof()) return true;
    const Box van = shop_.to_van(Box{{0, 0, 0}, r_.size});
    const auto beside = [&](double from, double to) { return from < van.hi.x && to > van.lo.x; };
    bool free = true;
    const auto in_the_way = [&](const char* code, const std::string& name, double from, double to,
                                double top) {
      shop_.find(fault(code, r_.fields.place())
                     .with("found", name)
                     .with("from", from, Unit::mm)
                     .with("to", to, Unit::mm)
                     .with("top", top, Unit::mm));
      free = false;
    };
    for (const WheelArch& arch : r_.vehicle.arches) {
      if (arch.side != surface_.side() || !beside(arch.from, arch.to)) continue;
      if (arch.height > van.lo.z + kSame)
        in_the_way("lining.arch", arch.name, arch.from, arch.to, arch.height);
    }
    for (const Opening& door : r_.vehicle.openings) {
      if (door.kind == OpeningKind::rear || door.side != surface_.side()) continue;
      if (!beside(door.from, door.to) || door.top <= van.lo.z || door.bottom >= van.hi.z) continue;
      in_the_way("lining.over_door", door.name, door.from, door.to, door.top);
    }
    return free;
  }

  bool read_seams() {
    const auto widths = share_out(r_.fields.sizes("pieces"), r_.size.x);
    seams_ = {0.0};
    if (widths) {
      for (const double width : *widths) seams_.push_back(seams_.back() + width);
    }
    if (!widths || std::abs(seams_.back() - r_.size.x) > kSame) {
      shop_.find(fault("lining.pieces", r_.fields.place("pieces"))
                     .with("measured", seams_.back(), Unit::mm)
                     .with("required", r_.size.x, Unit::mm));
      return false;
    }
    if (r_.fields.text("seams") == "on_ribs") return move_seams();
    return true;
  }

  /// Moves each seam to the middle of the rib or bow next to it.
  bool move_seams() {
    std::vector<Holder> holders = surface_.holders(0, r_.size.x);
    std::erase_if(holders, [&](const Holder& holder) {
      return holder.x < kSame || holder.x > r_.size.x - kSame;
    });
    bool good = true;
    for (std::size_t i = 1; i + 1 < seams_.size(); ++i) {
      const auto next = std::ranges::min_element(
          holders, {}, [&](const Holder& holder) { return std::abs(holder.x - seams_[i]); });
      if (next != holders.end() && next->x > seams_[i - 1] + kSame) {
        seams_[i] = next->x;
        continue;
      }
      shop_.find(fault("lining.seam_rib", r_.fields.place("seams"))
                     .with("seam", static_cast<double>(i), Unit::count)
                     .with("what", surface_.roof() ? "bow" : "rib"));
      good = false;
    }
    return good;
  }

  void check_gap() {
    if (!r_.fields.has("fitting")) return;
    const Fitting& fitting = entry(r_.catalogue.fittings, r_.fields.text("fitting"));
    const double height = bounds(body_shape(fitting.boxes, fitting.rounds)).hi.z;
    if (plan_.gap >= height - kContact) return;
    shop_.find(fault("lining.no_room_for_fitting", r_.fields.table("place").place("gap"))
                   .with("found", fitting.key)
                   .with("measured", plan_.gap, Unit::mm)
                   .with("required", height, Unit::mm));
  }

  void read_openings() {
    const char* low_name = surface_.roof() ? "right" : "bottom";
    const char* high_name = surface_.roof() ? "left" : "top";
    for (const auto& [name, opening] : r_.fields.tables("openings")) {
      const auto wrong = [&](const char* code) {
        Finding finding = fault(code, opening.place());
        finding.subjects = {shop_.id("opening." + name)};
        shop_.find(std::move(finding.with("low", low_name).with("high", high_name)));
      };
      if (!opening.has(low_name) || !opening.has(high_name)) {
        wrong("lining.opening_ends");
        continue;
      }
      LiningOpening read{.name = name, .fields = &opening};
      std::tie(read.x0, read.x1) = std::minmax({r_.from_van({opening.number("rear"), 0, 0}).x,
                                                r_.from_van({opening.number("front"), 0, 0}).x});
      read.on_sheet = opening.text("measured") == "on_sheet";
      const double low = opening.number(low_name);
      const double high = opening.number(high_name);
      std::tie(read.low, read.high) =
          read.on_sheet ? std::pair{low, high}
                        : std::minmax({surface_.along(low), surface_.along(high)});
      if (high <= low + kSame || opening.number("front") <= opening.number("rear") + kSame) {
        wrong("lining.opening_reversed");
        continue;
      }
      if (!in_a_piece(read)) continue;
      plan_.openings.push_back(read);
    }
  }

  bool in_a_piece(const LiningOpening& opening) {
    const bool on_it = opening.low > 0.0 && (opening.on_sheet || opening.high < surface_.extent());
    for (std::size_t i = 0; i + 1 < seams_.size() && on_it; ++i) {
      if (opening.x0 >= seams_[i] && opening.x1 <= seams_[i + 1]) return true;
    }
    Finding finding = fault("lining.opening_over_seam", opening.fields->place());
    finding.subjects = {shop_.id("opening." + opening.name)};
    std::string ends;
    for (const double seam : seams_) {
      if (!ends.empty()) ends += ", ";
      ends += length_text(r_.to_van({seam, 0, 0}).x, LengthStyle::millimetres);
    }
    shop_.find(std::move(finding.with("ends", ends)));
    return false;
  }

  /// Edges are named by where they lie in the van.
  Allowance read_scribe() {
    Allowance result;
    if (!r_.fields.has("scribe")) return result;
    const Record& scribe = r_.fields.table("scribe");
    const bool rear_first = r_.to_van({0, 0, 0}).x < r_.to_van({r_.size.x, 0, 0}).x;
    const bool left_first = r_.fields.text("faces") == "right";
    struct Edge {
      const char* name;
      double& allowance;
      bool there;
    };
    const bool roof = surface_.roof();
    const std::array<Edge, 6> edges{{
        {"rear", rear_first ? result.left : result.right, true},
        {"front", rear_first ? result.right : result.left, true},
        {"bottom", result.start, !roof},
        {"top", result.end, !roof},
        {"left", left_first ? result.start : result.end, roof},
        {"right", left_first ? result.end : result.start, roof},
    }};
    for (const Edge& edge : edges) {
      if (!scribe.has(edge.name)) continue;
      if (edge.there) {
        edge.allowance = scribe.number(edge.name);
        continue;
      }
      shop_.find(
          fault("lining.no_such_edge", scribe.place(edge.name))
              .with("found", edge.name)
              .with("known", roof ? "rear, front, left and right" : "rear, front, bottom and top"));
    }
    return result;
  }

  const ModuleRequest& r_;
  Workshop shop_;
  LinedSurface surface_;
  LiningPlan plan_;
  std::vector<double> seams_;  ///< x of the seams, ends included
};

/// Its depth behind its innermost place; its height under a roof likewise.
std::optional<double> lining_size(const EarlyFields& early, int axis) {
  const auto surface = early.evaluator.text(early.path, "surface");
  const auto key = early.evaluator.text(early.path, "sheet");
  if (!key || !surface || axis != (*surface == "roof" ? 2 : 1)) return std::nullopt;
  const auto sheet = early.catalogue.sheets.find(*key);
  if (sheet == early.catalogue.sheets.end()) return std::nullopt;
  return sheet->second.thickness;
}

std::vector<Field> opening_fields() {
  return {length_field("rear").needed().means("x of its edge towards the rear of the van"),
          length_field("front").needed().means("x of its edge towards the front of the van"),
          length_field("bottom").means("in a wall: z of its lower edge"),
          length_field("top").means("in a wall: z of its upper edge"),
          length_field("left").means("under the roof: y of its left edge"),
          length_field("right").means("under the roof: y of its right edge"),
          choice_field("measured", {"in_van", "on_sheet"})
              .otherwise("in_van")
              .means("on_sheet: bottom and top (under the roof: right and left) count along the "
                     "sheet from where it begins: the lower edge, under the roof the module's "
                     "back"),
          length_field("radius").otherwise("20 mm").at_least(0).means("of its corners"),
          table_field("hatch", hatch_fields()).means("a hatch that closes it")};
}

std::vector<Field> fields() {
  const auto edge = [](const char* name) {
    return Field(length_field(name).at_least(0).means(std::string("at its ") + name + " edge"));
  };
  return {
      choice_field("surface", {"wall", "roof"})
          .otherwise("wall")
          .means("what it lines: the wall behind it or the roof above it"),
      reference_field("sheet", kBoard)
          .needed()
          .means("what it is cut from; its flex_radius says how it may be bent"),
      choice_field("grain", {"along", "across"})
          .otherwise("along")
          .means("the grain runs along the bends, which is along the van, or across them"),
      sizes_field("pieces")
          .items(1, 20)
          .otherwise("[\"1 share\"]")
          .means("widths of its pieces along the van, from its left; together they give its width"),
      choice_field("seams", {"as_said", "on_ribs"})
          .otherwise("as_said")
          .means("on_ribs: each seam moves to the middle of the nearest rib or bow"),
      length_field("seam_gap").otherwise("2 mm").at_least(0).at_most(20).means("left free between two pieces"),
      length_field("smooth").otherwise("2 mm").at_least(0).means(
          "it goes straight over what the wall bulges or hollows by less"),
      length_field("bend_radius")
          .above(0)
          .means("inside radius of its bends; otherwise the smallest that the sheet takes"),
      flag_field("sprung").otherwise("false").means(
          "true: a flat sheet pressed into one even curve by its ends"),
      length_field("flexible")
          .otherwise("0 mm")
          .at_least(0)
          .at_most(50)
          .means("how far a panel may be bowed by hand to follow what the survey did not see; it "
                 "counts where a build judges how the lining fits the van"),
      choice_field("mount", {"resting", "floating"})
          .otherwise("resting")
          .means("resting: its lower edge stands on the floor or a ledge; floating: what holds it "
                 "carries it"),
      reference_field("fitting", kMagnetOrClip)
          .means("magnet or clip behind it, where a row crosses a rib or bow"),
      reference_field("screw", kWoodScrew).means("screw through it into the rib or bow, likewise"),
      lengths_field("rows").means("heights (under the roof: places y) of the rows of fittings and "
                                  "screws, moved off bends; otherwise two, near its edges"),
      length_field("shim").otherwise("6 mm").at_least(0).means(
          "what may be packed out between a rib and it; where it stands off more is told"),
      table_field("scribe", {edge("rear"), edge("front"), edge("bottom"), edge("top"), edge("left"),
                             edge("right")})
          .means("left on at its edges when it is cut, to be planed off where it meets what is not "
                 "straight"),
      keyed_field("openings", opening_fields())
          .means("openings with round corners, on one flat of one piece"),
  };
}

}  // namespace

Kind lining_kind() {
  return {.name = "lining",
          .schema = module_schema("lining",
                                  "panels that follow a wall or the roof; its back looks to the "
                                  "wall, place.gap is kept from ribs, bows and the wall",
                                  fields()),
          .generate = [](const ModuleRequest& request) { return Lining(request).make(); },
          .default_size = lining_size,
          .follows_walls = true};
}

}  // namespace ribbay::detail
