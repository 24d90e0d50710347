#include "vans/vans.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace ribbay {

namespace {

using PartsById = std::map<std::string_view, const Part*>;

PartsById made_parts(const VanRun& van) {
  PartsById parts;
  if (!van.layout) return parts;
  for (const Part& part : van.layout->parts) {
    if (is_made(part.kind)) parts.emplace(part.id, &part);
  }
  return parts;
}

bool same_length(double a, double b) { return std::abs(a - b) < kContact; }

/// Whether the shop makes the same thing of both.
bool same_cut(const Part& a, const Part& b) {
  return a.stock.key == b.stock.key && same_length(a.stock.length, b.stock.length) &&
         same_length(a.stock.width, b.stock.width) &&
         same_length(a.stock.thickness, b.stock.thickness) && key(*a.shape) == key(*b.shape);
}

/// "rack" names the module of "rack", "rack/post.left" and "rack.holds.battery".
bool names(const std::string& subject, const std::string& module) {
  if (!subject.starts_with(module)) return false;
  return subject.size() == module.size() || subject[module.size()] == '/' ||
         subject[module.size()] == '.';
}

void count_findings(const Findings& findings, const std::string& module, ModuleInVan& cell) {
  for (const Finding& finding : findings) {
    const bool named = std::ranges::any_of(finding.subjects, [&](const std::string& subject) {
      return names(subject, module) || names(subject, "module." + module);
    });
    if (!named) continue;
    if (finding.severity == Severity::error) ++cell.errors;
    if (finding.severity == Severity::warning) ++cell.warnings;
  }
}

void compare_parts(const PartsById& first, const PartsById& here, const std::string& module,
                   ModuleInVan& cell) {
  for (const auto& [id, part] : here) {
    if (part->module != module) continue;
    const auto before = first.find(id);
    if (before == first.end() || !same_cut(*before->second, *part)) ++cell.cut_anew;
  }
  for (const auto& [id, part] : first) {
    if (part->module == module && !here.contains(id)) ++cell.left_over;
  }
}

/// Width, depth, height as seen from its front.
Vec3 size_of(const Module& module) {
  const Vec3 across = module.envelope.hi - module.envelope.lo;
  const bool lengthwise = module.front == "rear" || module.front == "front";
  return lengthwise ? Vec3{across.y, across.x, across.z} : across;
}

const Module* module_of(const VanRun& van, const std::string& name) {
  return van.layout ? van.layout->module(name) : nullptr;
}

std::string size_text(const Part& part, LengthStyle show) {
  std::string text = length_text(part.stock.length, show);
  for (const double size : {part.stock.width, part.stock.thickness}) {
    if (size > 0.0) text += " x " + length_text(size, show);
  }
  return text;
}

}  // namespace

std::vector<ModuleRow> module_rows(const VanComparison& comparison) {
  std::vector<ModuleRow> rows;
  for (const VanRun& van : comparison.vans) {
    if (!van.layout) continue;
    for (const Module& module : van.layout->modules) {
      if (std::ranges::find(rows, module.name, &ModuleRow::name) == rows.end())
        rows.push_back({module.name, module.title, {}});
    }
  }
  std::vector<PartsById> parts;
  for (const VanRun& van : comparison.vans) parts.push_back(made_parts(van));
  for (ModuleRow& row : rows) {
    for (std::size_t v = 0; v < comparison.vans.size(); ++v) {
      const VanRun& van = comparison.vans[v];
      ModuleInVan cell;
      count_findings(van.findings, row.name, cell);
      const Module* module = module_of(van, row.name);
      if (module != nullptr) cell.size = size_of(*module);
      if (van.layout && comparison.vans.front().layout) {
        const bool before = module_of(comparison.vans.front(), row.name) != nullptr;
        compare_parts(parts.front(), parts[v], row.name, cell);
        cell.change = Change::same;
        if (!before) cell.change = module != nullptr ? Change::added : Change::same;
        else if (module == nullptr) cell.change = Change::gone;
        else if (cell.cut_anew + cell.left_over > 0) cell.change = Change::size;
      }
      row.vans.push_back(cell);
    }
  }
  return rows;
}

std::vector<PartRow> part_rows(const VanComparison& comparison) {
  if (!comparison.vans.front().layout) return {};
  std::vector<PartsById> vans;
  std::map<std::string_view, std::string> titles;
  for (const VanRun& van : comparison.vans) {
    vans.push_back(made_parts(van));
    for (const auto& [id, part] : vans.back()) titles.emplace(id, part->title);
  }
  std::vector<PartRow> rows;
  for (const auto& [id, title] : titles) {
    PartRow row{std::string(id), title, {}};
    bool differs = false;
    const Part* first = nullptr;
    for (std::size_t v = 0; v < vans.size(); ++v) {
      const auto found = vans[v].find(id);
      const Part* part = found == vans[v].end() ? nullptr : found->second;
      row.sizes.push_back(part != nullptr ? size_text(*part, comparison.show) : "-");
      if (!comparison.vans[v].layout) continue;
      if (v == 0) first = part;
      else if (part == nullptr || first == nullptr) differs = differs || part != first;
      else differs = differs || !same_cut(*first, *part);
    }
    if (differs) rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace ribbay
