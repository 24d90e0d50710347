#include "drawings/drawings.hpp"

#include "assembly_drawing.hpp"
#include "base/wording.hpp"
#include "drawings/audit.hpp"
#include "drawings/part_words.hpp"
#include "part_drawing.hpp"
#include "sections/section_drawing.hpp"

#include <algorithm>
#include <functional>
#include <optional>

namespace ribbay {

namespace {

using detail::Attempt;
using detail::page_of;
using detail::PageSet;
using detail::undrawn_page;
using Draw = std::function<std::optional<Drawing>(const Attempt&)>;

/// The first attempt whose audit finds nothing; failing that the one with fewest faults.
std::optional<Drawing> first_clean(const Draw& draw, const std::vector<PageSize>& pages, int scales,
                                   bool tabled) {
  std::optional<Drawing> best;
  std::size_t fewest = 0;
  for (int smaller = 0; smaller < scales; ++smaller) {
    for (const PageSize page : pages) {
      for (const double letters : {3.5, 2.5}) {
        std::optional<Drawing> drawing = draw({page, letters, smaller, tabled});
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

/// Pages and scales for an assembly, best first: an A3 is easily printed, but 1:20 is hard to read.
struct AssemblyTry {
  PageSize page = PageSize::a3;
  double scale = 0.0;
};
constexpr AssemblyTry kAssemblyTries[] = {
    {PageSize::a3, 0.5},  {PageSize::a3, 0.2},  {PageSize::a3, 0.1},  {PageSize::a2, 0.2},
    {PageSize::a2, 0.1},  {PageSize::a3, 0.05}, {PageSize::a2, 0.05}, {PageSize::a1, 0.1},
    {PageSize::a1, 0.05}, {PageSize::a1, 0.02}};
constexpr std::size_t kLongList = 30;  // rows; longer lists get pages of their own

/// A sheet of the van itself, on the first page and at the first scale that shows it well. What is
/// wanted and finds no page is told: silence would look like a complete set.
struct VanSheet {
  int number;
  const char* name;
  const char* what;  ///< key of the words on the file
  std::optional<Drawing> (*draw)(const PageSet&, PageSize, double);
  bool (*wanted)(const Layout&);
  std::vector<AssemblyTry> tries;
};

const std::vector<VanSheet>& van_sheets() {
  static const std::vector<VanSheet> sheets{
      {1,
       "plan",
       "file.plan",
       detail::van_plan,
       [](const Layout& layout) { return !layout.parts.empty(); },
       {{PageSize::a3, 0.1},
        {PageSize::a3, 0.05},
        {PageSize::a2, 0.05},
        {PageSize::a1, 0.05},
        {PageSize::a3, 0.02}}},
      {2,
       "floor",
       "file.floor",
       detail::floor_plan,
       [](const Layout& layout) { return layout.vehicle && !layout.floor_bolts.empty(); },
       {{PageSize::a3, 0.05},
        {PageSize::a2, 0.1},
        {PageSize::a2, 0.05},
        {PageSize::a1, 0.1},
        {PageSize::a1, 0.05}}},
      {3,
       "sides",
       "file.sides",
       detail::van_elevations,
       [](const Layout& layout) { return layout.vehicle && !layout.parts.empty(); },
       {{PageSize::a3, 0.1},
        {PageSize::a3, 0.05},
        {PageSize::a2, 0.1},
        {PageSize::a2, 0.05},
        {PageSize::a1, 0.1},
        {PageSize::a1, 0.05},
        {PageSize::a3, 0.02}}},
      {4,
       "walls",
       "file.walls",
       detail::wall_plan,
       detail::has_wall_holes,
       {{PageSize::a3, 0.05},
        {PageSize::a3, 0.02},
        {PageSize::a2, 0.05},
        {PageSize::a1, 0.05},
        {PageSize::a1, 0.02}}}};
  return sheets;
}

void add_van_sheet(const PageSet& set, const VanSheet& sheet, std::vector<SetPage>& pages) {
  if (!sheet.wanted(set.layout)) return;
  for (const AssemblyTry& t : sheet.tries) {
    const auto drawing = sheet.draw(set, t.page, t.scale);
    if (!drawing || !audit(*drawing).empty()) continue;
    pages.push_back(page_of(sheet.number, sheet.name, say(sheet.what), *drawing));
    return;
  }
  TitleBlock block = detail::title_block(set);
  block.title = say(sheet.what);
  block.number = detail::document_number(set, sheet.name);
  pages.push_back(page_of(sheet.number, sheet.name, say(sheet.what), undrawn_page(set, block)));
}

constexpr double kWellFilled =
    0.12;  // of a page larger than A3, by its views: else a smaller scale
constexpr double kBarelyFilled = 0.08;  // of a page: else a smaller page

double share_drawn(const Drawing& d) {
  double views = 0.0;
  for (const Rect& view : d.views) views += view.width() * view.height();
  return views / (d.frame.width() * d.frame.height());
}

/// The module's drawing with its sections beside the views, when they find room on its sheet.
std::optional<Drawing> with_sections(const PageSet& set, const Module& module,
                                     detail::ModuleCuts& cuts, const Drawing& sheet,
                                     const AssemblyTry& made) {
  const Rect area = detail::usable_area(detail::open_page(set, made.page, {}), set.not_for_cutting);
  for (const double scale : {0.5, 0.2, 0.1, 0.05}) {
    if (scale < made.scale) break;
    for (const bool balloons : {true, false}) {
      Drawing together = sheet;
      if (detail::add_sections(together, set, module, cuts, scale, made.scale, area, balloons) &&
          audit(together).empty())
        return together;
    }
  }
  return std::nullopt;
}

/// A page of a module's sections.
void add_section_page(const PageSet& set, const Module& module, detail::ModuleCuts& cuts,
                      int number, std::vector<SetPage>& pages) {
  const std::string& title = module.title.empty() ? module.name : module.title;
  std::optional<Drawing> best;
  std::size_t fewest = 0;
  AssemblyTry used{};
  for (const AssemblyTry& t : {AssemblyTry{PageSize::a4, 0.5},
                               {PageSize::a3, 0.5},
                               {PageSize::a4, 0.2},
                               {PageSize::a3, 0.2},
                               {PageSize::a2, 0.2},
                               {PageSize::a4, 0.1},
                               {PageSize::a3, 0.1},
                               {PageSize::a1, 0.2},
                               {PageSize::a2, 0.1},
                               {PageSize::a3, 0.05},
                               {PageSize::a2, 0.05},
                               {PageSize::a1, 0.05}}) {
    std::optional<Drawing> drawing = detail::section_drawing(set, module, cuts, t.page, t.scale);
    if (!drawing || (t.page > PageSize::a3 && share_drawn(*drawing) < kWellFilled)) continue;
    const std::size_t faults = audit(*drawing).size();
    if (best && faults >= fewest) continue;
    best = std::move(drawing);
    fewest = faults;
    used = t;
    if (fewest == 0) break;
  }
  // A few lines on a large page are as well read on a small one, since details show the joints.
  if (best && fewest == 0 && used.page != PageSize::a4 && share_drawn(*best) < kBarelyFilled) {
    for (const double scale : {0.1, 0.05}) {
      if (scale >= used.scale) continue;
      auto small = detail::section_drawing(set, module, cuts, PageSize::a4, scale);
      if (!small || !audit(*small).empty()) continue;
      best = std::move(small);
      break;
    }
  }
  if (!best) {
    TitleBlock block = detail::title_block(set);
    block.title = title;
    block.number = detail::document_number(set, module.name + "-X");
    best = undrawn_page(set, block);
  }
  pages.push_back(
      page_of(number, module.name + "-sections", say("file.sections", {{"title", title}}), *best));
}

void add_assembly(const PageSet& set, const Module& module, int number,
                  std::vector<SetPage>& pages) {
  const std::string& title = module.title.empty() ? module.name : module.title;
  std::optional<Drawing> best;
  std::size_t fewest = 0;
  bool best_lists = true;
  AssemblyTry made{};
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
        made = t;
      }
      if (fewest == 0) break;
    }
    if (best && fewest == 0) break;
  }
  if (detail::list_rows(set, module) <= 1) return;  // nothing to make or to buy
  if (!best) {
    TitleBlock block = detail::title_block(set);
    block.title = title;
    block.number = detail::document_number(set, module.name);
    best = undrawn_page(set, block);
    best_lists = false;
  }
  detail::ModuleCuts cuts(set.layout, module, section_planes(set.layout, module));
  bool to_cut = !cuts.planes().empty();
  if (to_cut && made.scale > 0.0 && fewest == 0) {
    if (auto together = with_sections(set, module, cuts, *best, made)) {
      best = std::move(together);
      to_cut = false;
    }
  }
  pages.push_back(page_of(number, module.name, say("file.assembly", {{"title", title}}), *best));
  if (!best_lists) {
    for (const Drawing& page : detail::list_pages(set, module))
      pages.push_back(
          page_of(++number, module.name + "-list", say("file.list", {{"title", title}}), page));
  }
  if (to_cut) add_section_page(set, module, cuts, ++number, pages);
}

}  // namespace

std::vector<SetPage> drawing_set(const Layout& layout, const DrawingOptions& options) {
  const PageSet set{layout, options.not_for_cutting, part_types(layout), options.gaps};
  std::vector<SetPage> pages;
  for (const VanSheet& sheet : van_sheets()) add_van_sheet(set, sheet, pages);
  int number = 10;
  for (const Module& module : layout.modules) {
    add_assembly(set, module, number, pages);
    number += 10;
  }
  number = std::max(101, number + 1);
  for (const PartType& type : set.types) {
    const Part& part = layout.parts[type.parts.front()];
    const auto draw =
        part.kind == PartKind::member ? detail::member_drawing : detail::panel_drawing;
    std::optional<Drawing> drawing;
    for (const bool tabled : {false, true}) {
      if (!drawing || !audit(*drawing).empty()) {
        drawing = first_clean([&](const Attempt& attempt) { return draw(set, type, attempt); },
                              {PageSize::a4, PageSize::a3, PageSize::a2}, 3, tabled);
      }
    }
    pages.push_back(
        page_of(number++, type.mark + "-" + part.title,
                say("file.part", {{"mark", type.mark}, {"title", part.title}}),
                drawing ? std::move(*drawing) : undrawn_page(set, detail::part_title(set, type))));
  }
  return pages;
}

OutputFiles drawings(const Layout& layout, const DrawingOptions& options) {
  OutputFiles files;
  for (const SetPage& page : drawing_set(layout, options))
    files.push_back({page.path, svg(page.drawing), page.what});
  return files;
}

}  // namespace ribbay
