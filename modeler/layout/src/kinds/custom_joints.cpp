#include "base/tolerance.hpp"
#include "custom.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <optional>

namespace ribbay::detail {

namespace {

/// One kind of joint: what its table must and may say, and how it is made.
struct JointKind {
  const char* name;
  std::vector<const char*> needs;
  std::vector<const char*> takes;  ///< besides kind, parts and glued
  void (*make)(const Pair&, const Record&);
  bool of_made_parts = false;  ///< its parts must be made already
};

std::optional<Vec3> way_if(const Record& fields, const char* field) {
  return fields.has(field) ? std::optional(way(fields.text(field))) : std::nullopt;
}

Row row_of(const Record& fields) {
  return {.at = fields.has("at") ? fields.numbers("at") : std::vector<double>{},
          .spacing = fields.number("spacing")};
}

const Bolt& bolt_of(const Pair& pair, const Record& fields, const char* field) {
  return entry(pair.request.catalogue.bolts, fields.text(field));
}

void make_end_bolt(const Pair& pair, const Record& fields) {
  end_bolt(pair, {.bolt = &bolt_of(pair, fields, "bolt"),
                  .in_slot = fields.text("head") == "in slot",
                  .sunk = fields.number("sunk")});
}

void make_connector(const Pair& pair, const Record& fields) {
  hidden_connector(pair, entry(pair.request.catalogue.connectors, fields.text("connector")),
                   way_if(fields, "side"));
}

void make_plate(const Pair& pair, const Record& fields) {
  gusset_plate(pair,
               {.plate = &bought(pair.request, pair.request.catalogue.plates, fields.text("plate")),
                .face = way_if(fields, "side"),
                .towards = way_if(fields, "towards")});
}

void make_bracket(const Pair& pair, const Record& fields) {
  corner_bracket(pair,
                 bought(pair.request, pair.request.catalogue.brackets, fields.text("bracket")),
                 way_if(fields, "towards"));
}

void make_on_face(const Pair& pair, const Record& fields) {
  const Catalogue& catalogue = pair.request.catalogue;
  panel_on_face(pair, {.bolt = &bolt_of(pair, fields, "bolt"),
                       .nut = &entry(catalogue.nuts, fields.text("nut")),
                       .gasket = fields.text("kind") == "panel on gasket"
                                     ? &entry(catalogue.gaskets, fields.text("gasket"))
                                     : nullptr,
                       .row = row_of(fields)});
}

void make_dowels(const Pair& pair, const Record& fields) {
  dowels(pair, entry(pair.request.catalogue.dowels, fields.text("dowel")), row_of(fields),
         fields.has("depths") ? fields.numbers("depths") : std::vector<double>{});
}

void make_screws(const Pair& pair, const Record& fields) {
  screws(pair, bolt_of(pair, fields, "screw"), row_of(fields));
}

void make_contact(const Pair& pair, const Record&) {
  if (meeting(pair)) join(pair, pair.glued ? "glued" : "contact");
}

const std::vector<JointKind>& joint_kinds() {
  static const std::vector<JointKind> table = {
      {"bracket", {"bracket"}, {"bracket", "towards"}, make_bracket, true},
      {"end bolt", {"bolt"}, {"bolt", "head", "sunk"}, make_end_bolt},
      {"hidden connector", {"connector"}, {"connector", "side"}, make_connector},
      {"gusset plate", {"plate"}, {"plate", "side", "towards"}, make_plate},
      {"panel on face", {"bolt", "nut"}, {"bolt", "nut", "at", "spacing"}, make_on_face},
      {"panel on gasket",
       {"gasket", "bolt", "nut"},
       {"gasket", "bolt", "nut", "at", "spacing"},
       make_on_face},
      {"panel in slot", {}, {}, [](const Pair& pair, const Record&) { panel_in_slot(pair); }},
      {"dado", {}, {}, [](const Pair& pair, const Record&) { dado(pair); }},
      {"rebate", {}, {}, [](const Pair& pair, const Record&) { rebate(pair); }},
      {"screw", {"screw"}, {"screw", "at", "spacing"}, make_screws},
      {"dowel", {"dowel"}, {"dowel", "at", "spacing", "depths"}, make_dowels},
      {"contact", {}, {}, make_contact}};
  return table;
}

/// Reports what a joint's table lacks, and what it says for nothing.
bool well_told(CustomWork& work, const JointKind& kind, const std::string& name,
               const Record& fields) {
  bool good = true;
  const auto report = [&](const char* code, const char* field, const Place& place) {
    good = false;
    work.shop.find(
        work.fault(code, place, "joint." + name).with("kind", kind.name).with("field", field));
  };
  for (const char* field : kind.needs) {
    if (!fields.has(field)) report("custom.joint_needs", field, fields.place());
  }
  for (const char* field :
       {"bolt", "nut", "bracket", "plate", "connector", "dowel", "gasket", "screw", "head", "sunk",
        "side", "towards", "at", "spacing", "depths"}) {
    const bool taken =
        std::ranges::any_of(kind.takes, [&](std::string_view known) { return known == field; });
    if (!taken && fields.given(field)) report("custom.joint_unused", field, fields.place(field));
  }
  return good;
}

/// The pairs of parts that a joint means: each part of `first` with those of `second` that it
/// touches or reaches into, and each that is left over with the nearest, which will be told.
std::vector<std::pair<std::string, std::string>> pairs_of(CustomWork& work,
                                                          const std::vector<std::string>& first,
                                                          const std::vector<std::string>& second,
                                                          double gap) {
  std::vector<std::pair<std::string, std::string>> pairs;
  const auto apart = [&](const std::string& a, const std::string& b) {
    return separation(work.pieces.find(a)->second, work.pieces.find(b)->second);
  };
  for (const std::string& a : first) {
    for (const std::string& b : second) {
      if (apart(a, b) <= gap + kContact) pairs.emplace_back(a, b);
    }
  }
  const auto leftover = [&](const std::vector<std::string>& some,
                            const std::vector<std::string>& others, bool swap) {
    for (const std::string& one : some) {
      const bool met = std::ranges::any_of(
          pairs, [&](const auto& pair) { return (swap ? pair.second : pair.first) == one; });
      if (met) continue;
      const std::string nearest = *std::ranges::min_element(
          others, {}, [&](const std::string& other) { return apart(one, other); });
      pairs.emplace_back(swap ? nearest : one, swap ? one : nearest);
    }
  };
  leftover(first, second, false);
  leftover(second, first, true);
  return pairs;
}

/// Reports parts that a joint between two cannot work: only members and panels are still on the
/// bench.
bool on_bench(CustomWork& work, const std::string& name, const Record& fields,
              const std::vector<std::string>& parts) {
  for (const std::string& part : parts) {
    if (work.pieces.contains(part)) continue;
    work.shop.find(work.fault("custom.cannot_join", fields.place("parts"), "joint." + name)
                       .with("found", part)
                       .with("kind", fields.text("kind")));
    return false;
  }
  return true;
}

/// The parts that the first word of a joint stands for, and those of all others.
struct JoinedParts {
  std::vector<std::string> first;
  std::vector<std::string> others;
};

std::optional<JoinedParts> joined_parts(CustomWork& work, const std::string& name,
                                        const Record& fields) {
  JoinedParts all;
  for (const std::string& word : fields.texts("parts")) {
    const auto parts = work.parts(fields, "parts", word);
    if (parts.empty() || !on_bench(work, name, fields, parts)) return std::nullopt;
    if (all.first.empty()) {
      all.first = parts;
      continue;
    }
    const auto itself = std::ranges::find_first_of(parts, all.first);
    if (itself != parts.end()) {
      work.shop.find(work.fault("custom.same_part", fields.place("parts"), "joint." + name)
                         .with("found", *itself));
      return std::nullopt;
    }
    all.others.insert(all.others.end(), parts.begin(), parts.end());
  }
  return all;
}

/// What is the same at many copies is told at the first of them.
void tell_first(Findings& findings, std::size_t from) {
  for (std::size_t i = from; i < findings.size(); ++i) {
    const auto again = [&](const Finding& later) {
      return later.code == findings[i].code && later.arguments == findings[i].arguments;
    };
    const auto next = findings.begin() + static_cast<std::ptrdiff_t>(i) + 1;
    findings.erase(std::remove_if(next, findings.end(), again), findings.end());
  }
}

void make_joint(CustomWork& work, const JointKind& kind, const std::string& name,
                const Record& fields) {
  const auto parts = joined_parts(work, name, fields);
  if (!parts) return;
  double gap = 0.0;
  if (kind.name == std::string_view("panel on gasket")) {
    gap = entry(work.request.catalogue.gaskets, fields.text("gasket")).compressed;
  }
  const auto pairs = pairs_of(work, parts->first, parts->others, gap);
  const std::size_t told = work.shop.made().findings.size();
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    std::string own = name;
    if (pairs.size() > 1) own.append("_").append(std::to_string(i + 1));
    kind.make(
        {work.request, work.shop, own, fields.place(), work.pieces.find(pairs[i].first)->second,
         work.pieces.find(pairs[i].second)->second, fields.flag("glued")},
        fields);
  }
  tell_first(work.shop.made().findings, told);
}

void make_those(CustomWork& work, bool of_made_parts) {
  for (const auto& [name, fields] : work.request.fields.tables("joints")) {
    const auto kind = std::ranges::find_if(
        joint_kinds(), [&](const JointKind& known) { return known.name == fields.text("kind"); });
    if (kind->of_made_parts != of_made_parts) continue;
    if (well_told(work, *kind, name, fields)) make_joint(work, *kind, name, fields);
  }
}

}  // namespace

void make_joints(CustomWork& work) {
  make_those(work, false);
}

void make_brackets(CustomWork& work) {
  make_those(work, true);
}

Field joints_field() {
  std::vector<std::string> kinds;
  for (const JointKind& kind : joint_kinds()) kinds.emplace_back(kind.name);
  return keyed_field(
             "joints",
             {choice_field("kind", std::move(kinds)).needed().means("how they are joined"),
              FieldMaker{"parts", FieldKind::texts}.items(2, 50).needed().means(
                  "the members or panels: the first is joined to each other one. It is the one "
                  "that "
                  "ends at the other, lies on it or stands in it; a screw goes through the first "
                  "into "
                  "the others"),
              reference_field("bolt", kMachineBolt)
                  .means("of an end bolt, and of a panel on members"),
              reference_field("nut", "nut").means("slot nut of a panel on members"),
              reference_field("bracket", "bracket").means("of the kind bracket"),
              reference_field("plate", "plate").means("of the kind gusset plate"),
              reference_field("connector", "connector").means("of the kind hidden connector"),
              reference_field("gasket", "gasket").means("of the kind panel on gasket"),
              reference_field("screw", kWoodScrew).means("of the kind screw"),
              reference_field("dowel", "dowel").means("of the kind dowel"),
              choice_field("head", {"in slot", "outside"})
                  .otherwise("in slot")
                  .means("where the head of an end bolt rests: behind the lips of the other "
                         "member's slot, with a hole for the driver, or on its far side"),
              length_field("sunk").otherwise("0 mm").at_least(0).means(
                  "a head outside is sunk by this"),
              way_field("side",
                        "the face of a gusset plate; the side that the cross hole of a "
                        "hidden connector is drilled from"),
              way_field("towards",
                        "the way along the other member that a bracket or a gusset plate "
                        "reaches; by default where there is more room"),
              lengths_field("at").items(1, 100).at_least(0).means(
                  "places of fasteners along where the parts meet, from its left, front or lower "
                  "end; by default spread out"),
              length_field("spacing").otherwise("300 mm").at_least(20).means(
                  "the most from one fastener to the next, without at"),
              lengths_field("depths").items(2, 2).above(0).means(
                  "of dowel holes in the first part and the other; by default half the dowel and "
                  "1 mm for glue"),
              flag_field("glued").otherwise("false").means("glued as well")})
      .means("what holds parts together; each kind drills and cuts what it needs");
}

}  // namespace ribbay::detail
