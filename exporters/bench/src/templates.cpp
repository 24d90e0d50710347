#include "bench/templates.hpp"

#include "base/wording.hpp"
#include "drawings/part_words.hpp"
#include "template_pages.hpp"

namespace ribbay {

namespace {

detail::TemplateJob job_for(const Layout& layout, const PartType& type,
                            const BenchOptions& options) {
  const Part& part = layout.parts[type.parts.front()];
  TrueOutline outline = true_outline(layout, part);
  detail::Tiling tiles =
      detail::tiling(detail::inked(outline), {outline.panel.width(), outline.panel.height()},
                     options.template_paper);
  return {layout, type, part, std::move(outline), std::move(tiles), options};
}

}  // namespace

std::vector<Template> templates(const Layout& layout, const BenchOptions& options) {
  std::vector<Template> all;
  for (const PartType& type : part_types(layout)) {
    const Part& part = layout.parts[type.parts.front()];
    if (!needs_template(part)) continue;
    const detail::TemplateJob job = job_for(layout, type, options);
    Template made{file_name(type.mark + "-" + part.title),
                  say("file.template", {{"mark", type.mark}, {"title", part.title}}),
                  {},
                  detail::whole_sheet(job)};
    made.pages.push_back(detail::map_page(job));
    for (const detail::Tile tile : job.tiling.tiles)
      made.pages.push_back(detail::tile_page(job, tile));
    all.push_back(std::move(made));
  }
  return all;
}

}  // namespace ribbay
