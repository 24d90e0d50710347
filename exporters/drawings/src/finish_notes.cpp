#include "drawings/finish_notes.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "catalogue/titles.hpp"
#include "layout/coverings.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

namespace {

std::string title_of(const Layout& layout, const Covering& covering) {
  return layout.catalogue ? stock_title(*layout.catalogue, covering.finish) : covering.finish;
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i == 0)
      text = words[i];
    else if (i + 1 < words.size())
      text += ", " + words[i];
    else
      text = say("list.last", {{"some", text}, {"last", words[i]}});
  }
  return text;
}

/// Which side of the picture an edge of the outline lies on; empty when it lies inside of it.
std::string side_of(const PanelStudy& panel, std::size_t edge) {
  const Vec2 a = panel.outline[edge];
  const Vec2 b = panel.outline[(edge + 1) % panel.outline.size()];
  const auto both = [](double p, double q, double at) {
    return std::abs(p - at) < kSame && std::abs(q - at) < kSame;
  };
  if (both(a.x, b.x, 0.0)) return "left";
  if (both(a.x, b.x, panel.width())) return "right";
  if (both(a.y, b.y, 0.0)) return "bottom";
  if (both(a.y, b.y, panel.height())) return "top";
  return {};
}

/// "left", or "from X, Y 0, 40 to 0, 380" where no side or several edges on one are meant.
std::string edge_name(const PanelStudy& panel, std::size_t edge, LengthStyle show) {
  const std::string side = side_of(panel, edge);
  int alike = 0;
  for (std::size_t i = 0; i < panel.outline.size(); ++i) alike += side_of(panel, i) == side ? 1 : 0;
  if (!side.empty() && alike == 1) return say("side." + side);
  const auto point = [&](Vec2 p) { return length_text(p.x, show) + ", " + length_text(p.y, show); };
  return say("edge_between", {{"from", point(panel.outline[edge])},
                              {"to", point(panel.outline[(edge + 1) % panel.outline.size()])}});
}

}  // namespace

std::vector<std::string> edge_names(const Part& part, const PanelStudy& panel,
                                    const Covering& covering, LengthStyle show) {
  std::vector<std::string> names;
  if (covers_all_edges(part, covering)) return names;
  for (const std::size_t edge : covering.edges) {
    if (edge < panel.outline.size()) names.push_back(edge_name(panel, edge, show));
  }
  return names;
}

std::vector<std::string> finish_notes(const Layout& layout, const Part& part,
                                      const PanelStudy& panel) {
  const LengthStyle show = layout.project.show;
  std::vector<std::string> notes;
  if (part.coverings.empty()) return notes;
  for (const bool face_a : {true, false}) {
    std::vector<std::string> titles;
    for (const Covering& c : part.coverings) {
      if (!((face_a != panel.behind) ? c.face : c.back)) {
        if (c.turn_over > 0.0) {
          titles.push_back(say("finish.turned_over", {{"finish", title_of(layout, c)},
                                                      {"width", length_text(c.turn_over, show)}}));
        }
        continue;
      }
      titles.push_back(title_of(layout, c));
    }
    notes.push_back(say(face_a ? "finish.face_a" : "finish.face_b",
                        {{"finish", titles.empty() ? say("finish.none") : listed(titles)}}));
  }
  for (const Covering& c : part.coverings) {
    if (c.edges.empty()) continue;
    if (covers_all_edges(part, c)) {
      notes.push_back(say("finish.all_edges", {{"finish", title_of(layout, c)}}));
      continue;
    }
    const std::vector<std::string> names = edge_names(part, panel, c, show);
    notes.push_back(say(names.size() > 1 ? "finish.edges" : "finish.edge",
                        {{"edges", listed(names)}, {"finish", title_of(layout, c)}}));
  }
  return notes;
}

}  // namespace ribbay
