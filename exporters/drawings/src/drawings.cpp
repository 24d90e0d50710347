#include "drawings/drawings.hpp"

#include "assembly_drawing.hpp"
#include "drawings/audit.hpp"
#include "part_drawing.hpp"

#include <algorithm>
#include <functional>
#include <optional>

namespace ribbay {

namespace {

using detail::Attempt;
using detail::PageSet;
using Draw = std::function<std::optional<Drawing>(const Attempt&)>;

/// The first attempt whose audit finds nothing; failing that the one with fewest faults.
std::optional<Drawing> first_clean(const Draw& draw, const std::vector<PageSize>& pages,
                                   int scales) {
  std::optional<Drawing> best;
  std::size_t fewest = 0;
  for (int smaller = 0; smaller < scales; ++smaller) {
    for (const PageSize page : pages) {
      for (const double letters : {3.5, 2.5}) {
        std::optional<Drawing> drawing = draw({page, letters, smaller});
        if (!drawing) continue;
        const std::size_t faults = audit(*drawing).size();
        if (faults == 0) return drawing;
        if (!best || faults < fewest) {
          best = std::move(drawing);
          fewest = faults;
        }
      }
    }
  }
  return best;
}

/// Lower-case letters and digits with '-' between: safe in any file system.
std::string file_name(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      out += c;
    } else if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out;
}

OutputFile file(int number, const std::string& name, const std::string& what,
                const Drawing& drawing) {
  std::string digits = std::to_string(number);
  if (digits.size() < 3) digits.insert(0, 3 - digits.size(), '0');
  return {"drawings/" + digits + "-" + file_name(name) + ".svg", svg(drawing), what};
}

/// Pages and scales for an assembly, best first: an A3 is easily printed, but 1:20 is hard to read.
struct AssemblyTry {
  PageSize page;
  double scale;
};
constexpr AssemblyTry kAssemblyTries[] = {
    {PageSize::a3, 0.5},  {PageSize::a3, 0.2},  {PageSize::a3, 0.1},  {PageSize::a2, 0.2},
    {PageSize::a2, 0.1},  {PageSize::a3, 0.05}, {PageSize::a2, 0.05}, {PageSize::a1, 0.1},
    {PageSize::a1, 0.05}, {PageSize::a1, 0.02}};
constexpr std::size_t kLongList = 30;  // rows; longer lists get pages of their own

void add_plan(const PageSet& set, OutputFiles& files) {
  for (const AssemblyTry& t : {AssemblyTry{PageSize::a3, 0.1},
                               {PageSize::a3, 0.05},
                               {PageSize::a2, 0.05},
                               {PageSize::a1, 0.05},
                               {PageSize::a3, 0.02}}) {
    const auto drawing = detail::van_plan(set, t.page, t.scale);
    if (!drawing || !audit(*drawing).empty()) continue;
    files.push_back(file(1, "plan", "plan and side elevation of the van", *drawing));
    return;
  }
}

void add_assembly(const PageSet& set, const Module& module, int number, OutputFiles& files) {
  const std::string& title = module.title.empty() ? module.name : module.title;
  std::optional<Drawing> best;
  std::size_t fewest = 0;
  bool best_lists = true;
  for (const bool lists : {true, false}) {
    if (lists && detail::list_rows(set, module) > kLongList) continue;
    for (const AssemblyTry& t : kAssemblyTries) {
      auto drawing = detail::assembly_drawing(set, module, t.page, t.scale, lists);
      if (!drawing) continue;
      const std::size_t faults = audit(*drawing).size();
      if (!best || faults < fewest) {
        best = std::move(drawing);
        fewest = faults;
        best_lists = lists;
      }
      if (fewest == 0) break;
    }
    if (best && fewest == 0) break;
  }
  if (!best) return;
  files.push_back(file(number, module.name, "assembly drawing of " + title, *best));
  if (best_lists) return;
  for (const Drawing& page : detail::list_pages(set, module)) {
    files.push_back(file(++number, module.name + "-list", "parts list of " + title, page));
  }
}

}  // namespace

OutputFiles drawings(const Layout& layout, const DrawingOptions& options) {
  const PageSet set{layout, options.not_for_cutting, part_types(layout)};
  OutputFiles files;
  add_plan(set, files);
  int number = 10;
  for (const Module& module : layout.modules) {
    add_assembly(set, module, number, files);
    number += 10;
  }
  number = std::max(101, number + 1);
  for (const PartType& type : set.types) {
    const Part& part = layout.parts[type.parts.front()];
    const bool member = part.kind == PartKind::member;
    const auto drawing = first_clean(
        [&](const Attempt& attempt) {
          return member ? detail::member_drawing(set, type, attempt)
                        : detail::panel_drawing(set, type, attempt);
        },
        {PageSize::a4, PageSize::a3, PageSize::a2}, 3);
    if (drawing) {
      files.push_back(file(number, type.mark + "-" + part.title,
                           "part drawing of " + type.mark + ", " + part.title, *drawing));
    }
    ++number;
  }
  return files;
}

}  // namespace ribbay
