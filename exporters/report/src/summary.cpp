#include "base/messages.hpp"
#include "base/ways.hpp"
#include "layout/removals.hpp"
#include "report/report.hpp"

#include <algorithm>
#include <array>

namespace ribbay {

namespace {

/// "1 error", "3 errors".
std::string counted(std::size_t count, std::string_view what) {
  return std::to_string(count) + " " + std::string(what) + (count == 1 ? "" : "s");
}

std::string line(std::string_view head, const std::string& text) {
  std::string padded(head);
  padded.resize(10, ' ');
  return padded + text + "\n";
}

std::string titled(const std::string& key, const std::string& title) {
  if (title.empty() || title == key) return key;
  return key.empty() ? title : key + ", " + title;
}

std::string parts_text(const Layout& layout) {
  constexpr std::array kinds = {PartKind::member, PartKind::panel,    PartKind::plank,
                                PartKind::folded, PartKind::hardware, PartKind::equipment};
  std::vector<std::string> words;
  for (const PartKind kind : kinds) {
    const auto count = std::ranges::count(layout.parts, kind, &Part::kind);
    if (count > 0) words.push_back(std::to_string(count) + " " + std::string(name(kind)));
  }
  const std::string total =
      counted(layout.parts.size(), "part") + " in " + counted(layout.modules.size(), "module");
  return words.empty() ? total : total + ": " + join(words, ", ");
}

std::string mass_text(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  const MassSummary total = mass_summary(layout);
  const auto length = [&](double mm) { return length_text(mm, show); };
  return value_text(total.mass_kg, Unit::kg, show) + ", centre of gravity at x " +
         length(total.centre.x) + ", y " + length(total.centre.y) + ", z " +
         length(total.centre.z) + (show == LengthStyle::inches ? " in" : " mm");
}

std::string heading(const Layout& layout) {
  const ProjectInfo& project = layout.project;
  std::string text = line("project", titled(project.name, project.title));
  if (!project.date.empty()) text += line("date", project.date);
  if (layout.vehicle) text += line("van", titled(layout.vehicle->key, layout.vehicle->title));
  text += line("parts", parts_text(layout));
  if (!layout.parts.empty()) text += line("mass", mass_text(layout));
  return text;
}

std::string tally_text(const CheckTally& tally) {
  std::string text = tally.name + ": " + std::to_string(tally.passed) + " passed, " +
                     std::to_string(tally.failed) + " failed";
  if (tally.not_proven > 0) text += ", " + std::to_string(tally.not_proven) + " not proven";
  return text;
}

constexpr const char* kCaution =
    "          before that: isolate gas, electricity and hot water; follow local codes, and leave\n"
    "          gas and mains to licensed people\n\n";

/// "rack/battery: undo 2 x its own fixings; take out Battery, 300 mm to the rear".
std::string removal_text(const Layout& layout, const Removal& removal) {
  std::vector<std::string> words;
  for (const RemovalStep& step : removal_steps(layout, removal)) {
    std::string text(name(step.act));
    if (step.count > 0) text += " " + std::to_string(step.count) + " x";
    text += " " + step.what;
    if (!step.tool.empty()) text += " (" + step.tool + ")";
    if (length(step.direction) > 0.0) {
      text += ", " + value_text(step.travel, Unit::mm, layout.project.show) + " " +
              van_way_text(step.direction);
    }
    words.push_back(std::move(text));
  }
  return removal.id + ": " + join(words, "; ");
}

std::string verdict(const Findings& findings, bool laid_out) {
  const auto is = [](Severity severity) {
    return
        [severity](const Finding& f) { return f.status == Status::fail && f.severity == severity; };
  };
  const auto errors =
      static_cast<std::size_t>(std::ranges::count_if(findings, is(Severity::error)));
  const auto warnings =
      static_cast<std::size_t>(std::ranges::count_if(findings, is(Severity::warning)));
  const auto open =
      static_cast<std::size_t>(std::ranges::count(findings, Status::not_proven, &Finding::status));
  std::string text = errors == 0 ? "nothing wrong found" : counted(errors, "error");
  if (warnings > 0) text += ", " + counted(warnings, "warning");
  if (open > 0) text += ", " + std::to_string(open) + " not proven";
  if (errors > 0) text += laid_out ? ": NOT FOR CUTTING" : "; nothing was built";
  return text;
}

}  // namespace

std::string summary_text(const Report& report) {
  const LengthStyle show = report.layout ? report.layout->project.show : LengthStyle::millimetres;
  std::string text;
  if (report.layout) text += heading(*report.layout);
  std::string_view head = "checks";
  for (const CheckTally& tally : report.checks) {
    text += line(head, tally_text(tally));
    head = "";
  }
  if (!text.empty()) text += "\n";
  for (const Finding& finding : report.findings) text += finding_text(finding, show) + "\n";
  if (!report.findings.empty()) text += "\n";
  if (report.layout) {
    head = "comes out";
    for (const Removal* removal : equipment_removals(*report.layout)) {
      text += line(head, removal_text(*report.layout, *removal));
      head = "";
    }
    if (head.empty()) text += kCaution;
  }
  return text + line("result", verdict(report.findings, report.layout != nullptr));
}

OutputFiles report_files(const Report& report) {
  return {{"report.json", report_json(report), "everything the build found, for programs"},
          {"summary.txt", summary_text(report), "everything the build found, in words"}};
}

}  // namespace ribbay
