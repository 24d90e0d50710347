#include "finishes.hpp"

#include "base/tolerance.hpp"
#include "finished_shape.hpp"
#include "layout/coverings.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

namespace ribbay::detail {

namespace {

/// "piece_*" matches "piece_1": * stands for any letters, also none.
bool matches(std::string_view pattern, std::string_view name) {
  std::size_t at = 0;                 // in the pattern
  std::optional<std::size_t> behind;  // the last *
  std::size_t tried = 0;              // where in the name what follows that * was tried
  for (std::size_t i = 0; i < name.size();) {
    if (at < pattern.size() && pattern[at] == '*') {
      behind = ++at;
      tried = i;
    } else if (at < pattern.size() && pattern[at] == name[i]) {
      ++at;
      ++i;
    } else if (behind) {  // that * takes one letter more; an earlier one never needs to
      at = *behind;
      i = ++tried;
    } else {
      return false;
    }
  }
  return pattern.find_first_not_of('*', at) == std::string_view::npos;
}

bool takes_finish(const Part& part) {
  return part.kind == PartKind::panel || part.kind == PartKind::plank ||
         part.kind == PartKind::folded;
}

/// "post.front_left" from "rack/post.front_left".
std::string own_name(const Part& part) {
  return part.id.substr(part.module.size() + 1);
}

/// One entry of `finishes`.
struct Order {
  const Record& record;
  const Finish& finish;
  bool face = false;
  bool back = false;
  bool edges = false;
  double turn_over = 0.0;

  Order(const Record& fields, const Catalogue& catalogue)
      : record{fields}, finish{catalogue.finishes.find(fields.text("finish"))->second} {
    for (const std::string& word : fields.texts("faces")) {
      face = face || word == "face" || word == "all";
      back = back || word == "back" || word == "all";
      edges = edges || word == "edges" || word == "all";
    }
    const bool wraps = finish.kind == FinishKind::film && face && !back;
    turn_over = fields.number_if("turn_over").value_or(wraps ? finish.turn_over : 0.0);
    edges = edges || turn_over > 0.0;  // on its way to the back
  }

  Covering covering(const Part& part) const {
    Covering result{.finish = finish.key,
                    .face = face,
                    .back = back,
                    .edges = {},
                    .thickness = finish.thickness,
                    .turn_over = turn_over};
    if (edges) {
      const Prism& plate = part.flat ? part.flat->blank : part.shape->prisms.front().prism;
      result.edges.resize(plate.section.outer.size());
      std::iota(result.edges.begin(), result.edges.end(), std::size_t{0});
    }
    return result;
  }
};

bool is_possible(const Order& order, const std::string& path, Findings& findings) {
  const auto report = [&](const char* code, const char* field) {
    Finding finding = input_error(code, order.record.place(field));
    finding.subjects = {path};
    findings.push_back(std::move(finding.with("finish", order.finish.key)));
    return false;
  };
  if (order.finish.kind == FinishKind::edge_band && (order.face || order.back))
    return report("finish.band_on_face", "faces");
  const bool wraps = order.finish.kind == FinishKind::film && order.face && !order.back;
  if (order.turn_over > 0.0 && !wraps) return report("finish.turn_over", "turn_over");
  return true;
}

Finding no_such_part(const Record& order, const std::string& path, const std::string& pattern,
                     const std::vector<Part>& parts) {
  std::vector<std::string> names;
  for (const Part& part : parts) {
    if (takes_finish(part)) names.push_back(own_name(part));
  }
  std::ranges::sort(names);
  Finding finding = input_error("finish.no_such_part", order.place("parts"));
  finding.subjects = {path};
  finding.with("found", pattern).with("known", names.empty() ? "none" : join(names, ", "));
  const std::string guess = nearest(pattern, names);
  if (!guess.empty()) finding.with("nearest", guess);
  return finding;
}

/// Coats go over each other and over all else; of films, and of edge bands, one lies on a side.
bool lies_on_another(const Covering& fresh, const Covering& other, const Catalogue& catalogue) {
  const auto kind = [&](const Covering& covering) {
    return catalogue.finishes.find(covering.finish)->second.kind;
  };
  const bool alike = kind(fresh) == kind(other) && kind(fresh) != FinishKind::coat;
  if (!alike && fresh.finish != other.finish) return false;
  const bool edge = std::ranges::any_of(fresh.edges, [&](std::size_t side) {
    return std::ranges::find(other.edges, side) != other.edges.end();
  });
  return (fresh.face && other.face) || (fresh.back && other.back) || edge;
}

/// Told once for each entry of `finishes`, at the first part.
void check_twice(const Record& order, const std::string& path, const Part& part,
                 const Covering& fresh, const Catalogue& catalogue, Findings& findings) {
  const auto told = [&](const Finding& finding) {
    return finding.code == "finish.twice" && finding.subjects.front() == path;
  };
  if (std::ranges::any_of(findings, told)) return;
  for (const Covering& other : part.coverings) {
    if (!lies_on_another(fresh, other, catalogue)) continue;
    Finding finding = input_error("finish.twice", order.place("parts"));
    finding.subjects = {path, part.id};
    findings.push_back(std::move(finding.with("finish", fresh.finish).with("other", other.finish)));
    return;
  }
}

void cover_parts(const std::string& path, const Record& fields, const Catalogue& catalogue,
                 ModuleParts& made) {
  const Order order{fields, catalogue};
  if (!is_possible(order, path, made.findings)) return;
  std::vector<bool> chosen(made.parts.size());
  for (const std::string& pattern : fields.texts("parts")) {
    bool found = false;
    for (std::size_t i = 0; i < made.parts.size(); ++i) {
      const Part& part = made.parts[i];
      if (!takes_finish(part) || !matches(pattern, own_name(part))) continue;
      found = true;
      chosen[i] = true;
    }
    // Where the parts could not be made, that is told already.
    const bool nothing = std::ranges::none_of(made.parts, takes_finish);
    if (!found && !(nothing && has_errors(made.findings)))
      made.findings.push_back(no_such_part(fields, path, pattern, made.parts));
  }
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    Part& part = made.parts[i];
    if (!chosen[i]) continue;
    Covering fresh = order.covering(part);
    check_twice(fields, path, part, fresh, catalogue, made.findings);
    part.coverings.push_back(std::move(fresh));
    if (order.face && !order.finish.colour.empty()) part.colour = order.finish.colour;
  }
}

/// Where the file asks for a finish: among `finishes`, or as the module's edge band.
Place asked_at(const Record& fields, const std::string& finish) {
  for (const auto& [name, order] : fields.tables("finishes")) {
    if (order.text("finish") == finish) return order.place("finish");
  }
  return fields.has("edge_band") ? fields.place("edge_band") : fields.place();
}

/// Smallest size of the rectangle round a panel, a plank or a blank.
double narrowest(const Part& part) {
  return std::min(part.stock.length, part.stock.width);
}

/// Reports an edge band that leaves some of the edge bare, and a film that is turned over by more
/// than half the part, where it would meet itself. Each finish once, at the first part.
void check_sizes(const Part& part, const Record& fields, const Catalogue& catalogue,
                 Findings& findings) {
  const auto report = [&](const char* code, const Covering& covering, double measured,
                          double required) {
    const auto told = [&](const Finding& finding) {
      return finding.code == code && std::get<std::string>(finding.arguments.front().value) == covering.finish;
    };
    if (std::ranges::any_of(findings, told)) return;
    Finding finding = input_error(code, asked_at(fields, covering.finish));
    finding.subjects = {part.id};
    findings.push_back(std::move(finding.with("finish", covering.finish)
                                     .with("measured", measured, Unit::mm)
                                     .with("required", required, Unit::mm)));
  };
  for (const Covering& covering : part.coverings) {
    const Finish& finish = catalogue.finishes.find(covering.finish)->second;
    if (finish.kind == FinishKind::edge_band && finish.width > 0.0 &&
        finish.width < part.stock.thickness - kSame)
      report("finish.narrow_band", covering, finish.width, part.stock.thickness);
    if (covering.turn_over > narrowest(part) / 2 + kSame)
      report("finish.wide_turn_over", covering, covering.turn_over, narrowest(part) / 2);
  }
}

void finish_part(Part& part, const Catalogue& catalogue, Findings& findings) {
  part.finished = finished_shape(part);
  for (const Covering& covering : part.coverings) {
    const Finish& finish = catalogue.finishes.find(covering.finish)->second;
    part.mass_kg += covered_area(part, covering) * finish.area_mass;
  }
  if (part.finished) return;
  Finding finding;
  finding.code = "finish.too_thick";
  finding.subjects = {part.id};
  double thickness = 0.0;
  for (const Covering& covering : part.coverings) thickness += covering.thickness;
  finding.with("finish", part.coverings.back().finish).with("measured", thickness, Unit::mm);
  findings.push_back(std::move(finding));
}

}  // namespace

Field finishes_field() {
  return keyed_field(
             "finishes",
             {FieldMaker{"parts", FieldKind::texts}.items(1, 100).needed().means(
                  "names of the module's panels, planks and folded parts as lists print them, "
                  "without the module; * stands for any letters"),
              FieldMaker{"faces", FieldKind::texts}
                  .of({"face", "back", "edges", "all"})
                  .items(1, 3)
                  .otherwise("[\"face\"]")
                  .means("what is covered; the face is the better side"),
              reference_field("finish", "finish").needed().means("what covers them"),
              length_field("turn_over")
                  .at_least(0)
                  .means("of a film on the face: laid round every edge onto the back this far; by "
                         "default what the finish says")})
      .means("paint, film and edge band on its parts: they grow in the van by its thickness and "
             "are sawn to their bare size");
}

double covering_on(const Record& fields, const Catalogue& catalogue, std::string_view part,
                   BoardSide side) {
  double thickness = 0.0;
  for (const auto& [name, each] : fields.tables("finishes")) {
    const Order order{each, catalogue};
    const bool covers =
        side == BoardSide::face ? order.face : order.back || order.turn_over > 0.0;
    const bool chosen = std::ranges::any_of(
        each.texts("parts"), [&](const std::string& pattern) { return matches(pattern, part); });
    if (covers && chosen) thickness += order.finish.thickness;
  }
  return thickness;
}

void apply_finishes(const std::string& module, const Record& fields, const Catalogue& catalogue,
                    ModuleParts& made) {
  for (const auto& [name, order] : fields.tables("finishes"))
    cover_parts(module + "/finishes." + name, order, catalogue, made);
  for (Part& part : made.parts) {
    if (part.coverings.empty()) continue;
    check_sizes(part, fields, catalogue, made.findings);
    finish_part(part, catalogue, made.findings);
  }
}

}  // namespace ribbay::detail
