#include "drawings_benchmark.hpp"

#include "assembly/assembly.hpp"
#include "cutplans/cut_pages.hpp"
#include "drawings/drawings.hpp"
#include "drawings/steps.hpp"
#include "drawings/visible_lines.hpp"
#include "pdf/pdf.hpp"
#include "shape/facets.hpp"

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <functional>
#include <map>
#include <vector>

namespace {

using namespace ribbay;

/// Best of `runs`, in ms of processor time: other programs may share the machine.
double processor_ms(int runs, const std::function<void()>& work) {
  double best = 1e300;
  for (int i = 0; i < runs; ++i) {
    timespec from{};
    timespec to{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &from);
    work();
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &to);
    best = std::min(best, static_cast<double>(to.tv_sec - from.tv_sec) * 1e3 +
                              static_cast<double>(to.tv_nsec - from.tv_nsec) / 1e6);
  }
  return best;
}

ViewFrame view_from(Vec3 eye) {
  const Vec3 right = normalized(cross({0, 0, 1}, eye));
  return {right, cross(eye, right)};
}

/// The drawing set as a build writes it, after the checks: cuts planned, each page as SVG, and all of
/// them in one document.
struct WholeSet {
  std::size_t pages = 0;
  std::size_t bytes = 0;
};
WholeSet whole_set(const Layout& layout, const AssemblyPlan& assembly) {
  std::vector<SetPage> set = drawing_set(layout);
  std::ranges::move(step_pages(layout, assembly, {}), std::back_inserter(set));
  std::ranges::move(cut_pages(layout, plan_cuts(layout), {}), std::back_inserter(set));
  WholeSet all{set.size(), 0};
  std::vector<PdfPage> pages;
  for (const SetPage& page : set) {
    all.bytes += svg(page.drawing).size();
    pages.push_back({page.path, &page.drawing});
  }
  if (const auto pdf = pdf_document(pages, {"set", {}})) all.bytes += pdf->size();
  return all;
}

}  // namespace

void views_and_drawings(const Layout& layout) {
  constexpr std::size_t kBodies = 200;
  std::vector<Facets> bodies;
  std::size_t edges = 0;
  for (const Part& part : layout.parts) {
    if (bodies.size() == kBodies) break;
    bodies.push_back(placed(facets(*part.shape, {.chord = 0.3}), part.frame));
    edges += bodies.back().edges.size();
  }
  std::printf("views of %zu bodies with every slot, %zu edges, to drawn lines and arcs\n",
              bodies.size(), edges);
  const std::pair<const char*, ViewFrame> views[] = {{"front", {{1, 0, 0}, {0, 0, 1}}},
                                                     {"top", {{1, 0, 0}, {0, 1, 0}}},
                                                     {"isometric", view_from(normalized({-1, 1, 1}))}};
  for (const auto& [name, view] : views)
    std::printf("  %-9s %.1f ms\n", name,
                processor_ms(7, [&] { (void)visible_lines(bodies, view); }));
  std::size_t pages = 0;
  std::size_t bytes = 0;
  const double drawn = processor_ms(3, [&] { pages = drawing_set(layout).size(); });
  const double written = processor_ms(3, [&] {
    bytes = 0;
    for (const OutputFile& file : drawings(layout)) bytes += file.bytes.size();
  });
  std::printf("all drawings of the demo: %zu pages\n", pages);
  std::printf("  %.0f ms, with their files (%zu KB) %.0f ms\n", drawn, bytes / 1024, written);
  const AssemblyPlan assembly = plan_assembly(layout);
  WholeSet whole;
  const double all = processor_ms(3, [&] { whole = whole_set(layout, assembly); });
  std::printf("with steps, cutting plans and the document of all: %zu pages\n", whole.pages);
  std::printf("  %.0f ms, %zu KB\n", all, whole.bytes / 1024);
}
