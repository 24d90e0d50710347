#include "assembly_json.hpp"
#include "base/messages.hpp"
#include "layout/removals.hpp"
#include "report/report.hpp"


namespace ribbay {

namespace {

using namespace detail;

/// The format version of report.json. A reader refuses newer ones.
constexpr int kSchema = 1;

std::string_view name(Severity severity) {
  switch (severity) {
    case Severity::note:
      return "note";
    case Severity::warning:
      return "warning";
    case Severity::error:
      break;
  }
  return "error";
}

std::string_view name(Status status) {
  switch (status) {
    case Status::pass:
      return "pass";
    case Status::fail:
      return "fail";
    case Status::not_proven:
      break;
  }
  return "not proven";
}

Json unit_symbol(Unit unit) {
  switch (unit) {
    case Unit::none:
      return nullptr;
    case Unit::count:
      return "1";
    case Unit::mm:
      return "mm";
    case Unit::mm2:
      return "mm2";
    case Unit::mm3:
      return "mm3";
    case Unit::degree:
      return "deg";
    case Unit::kg:
      return "kg";
    case Unit::newton:
      return "N";
    case Unit::newton_mm:
      return "N mm";
    case Unit::mpa:
      return "MPa";
    case Unit::percent:
      return "%";
  }
  return nullptr;
}

const double* number_in(const Argument* argument) {
  return argument == nullptr ? nullptr : std::get_if<double>(&argument->value);
}

Json value_json(const Argument* argument) {
  const double* value = number_in(argument);
  return value == nullptr ? Json() : number(*value, 1e6);
}

Json unit_json(const Argument* measured, const Argument* required) {
  if (number_in(measured) != nullptr) return unit_symbol(measured->unit);
  if (number_in(required) != nullptr) return unit_symbol(required->unit);
  return nullptr;
}

Json place_json(const Place& place) {
  return {{"file", place.file}, {"line", place.line}, {"column", place.column}};
}

Json finding_json(const Finding& finding, LengthStyle show) {
  const Argument* measured = finding.argument("measured");
  const Argument* required = finding.argument("required");
  return {{"check", finding.code},
          {"severity", name(finding.severity)},
          {"status", name(finding.status)},
          {"subjects", finding.subjects},
          {"measured", value_json(measured)},
          {"required", value_json(required)},
          {"unit", unit_json(measured, required)},
          {"at_mm", finding.at ? point_mm(*finding.at) : Json()},
          {"place", finding.place ? place_json(*finding.place) : Json()},
          {"message", message_text(finding, show)},
          {"advice", text_or_null(advice_text(finding, show))},
          {"source", text_or_null(finding.source)}};
}

Json part_json(const Part& part) {
  const Box box = bounds(part);
  return {{"id", part.id},
          {"kind", ribbay::name(part.kind)},
          {"module", part.module},
          {"title", part.title},
          {"stock", part.stock.key},
          {"material", text_or_null(part.material)},
          {"mass_kg", mass(part.mass_kg)},
          {"box_mm", {{"lo", point_mm(box.lo)}, {"hi", point_mm(box.hi)}}}};
}

Json project_json(const ProjectInfo& project) {
  return {{"name", project.name},
          {"title", text_or_null(project.title)},
          {"date", text_or_null(project.date)},
          {"author", text_or_null(project.author)},
          {"show", project.show == LengthStyle::inches ? "in" : "mm"}};
}

Json removal_json(const Layout& layout, const Removal& removal) {
  return {{"part", removal.id},
          {"life_years", removal.life_years > 0.0 ? number(removal.life_years, 1e3) : Json()},
          {"steps", list(removal_steps(layout, removal), [](const RemovalStep& step) -> Json {
             const bool moves = length(step.direction) > 0.0;
             return {{"do", name(step.act)},
                     {"what", step.what},
                     {"fasteners", step.count},
                     {"tool", text_or_null(step.tool)},
                     {"direction", moves ? direction(step.direction) : Json()},
                     {"travel_mm", moves ? length_mm(step.travel) : Json()},
                     {"ids", step.ids}};
           })}};
}

void add_layout(Json& json, const Layout& layout) {
  json["project"] = project_json(layout.project);
  if (layout.vehicle)
    json["vehicle"] = {{"key", layout.vehicle->key}, {"title", layout.vehicle->title}};
  json["modules"] = list(layout.modules, [](const Module& module) -> Json {
    return {{"name", module.name}, {"kind", module.kind}, {"title", text_or_null(module.title)}};
  });
  json["parts"] = list(layout.parts, part_json);
  json["removals"] = list(equipment_removals(layout), [&](const Removal* removal) {
    return removal_json(layout, *removal);
  });
  const MassSummary total = mass_summary(layout);
  json["totals"] = {{"mass_kg", mass(total.mass_kg)},
                    {"cog_mm", layout.parts.empty() ? Json() : point_mm(total.centre)}};
}

}  // namespace

std::string report_json(const Report& report) {
  const LengthStyle show = report.layout ? report.layout->project.show : LengthStyle::millimetres;
  Json json = {{"schema", kSchema}, {"project", nullptr}};
  json["inputs"] = list(report.inputs, [](const InputDigest& input) -> Json {
    return {{"path", input.path}, {"sha256", input.sha256}};
  });
  json["settings"] = report.settings;
  json["vehicle"] = nullptr;
  json["modules"] = Json::array();
  json["parts"] = Json::array();
  json["checks"] = list(report.checks, [](const CheckTally& tally) -> Json {
    return {{"name", tally.name},
            {"passed", tally.passed},
            {"failed", tally.failed},
            {"not_proven", tally.not_proven}};
  });
  json["removals"] = Json::array();
  json["assembly"] = Json::array();
  json["findings"] = list(report.findings, [&](const Finding& f) { return finding_json(f, show); });
  json["totals"] = nullptr;
  if (report.layout) add_layout(json, *report.layout);
  if (report.layout && report.assembly)
    json["assembly"] = assembly_json(*report.layout, *report.assembly);
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace ribbay
