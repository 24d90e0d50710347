#pragma once

#include "drawings/sections.hpp"
#include "page_set.hpp"
#include "scene.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace ribbay::detail {

/// The sections of a module, each cut once at each scale however many pages are tried.
class ModuleCuts {
 public:
  ModuleCuts(const Layout& layout, const Module& module, std::vector<SectionPlane> planes);

  const std::vector<SectionPlane>& planes() const { return planes_; }
  const std::vector<std::size_t>& parts() const { return parts_; }
  const std::map<std::size_t, HatchStyle>& styles() const { return styles_; }
  const Box& box() const { return box_; }  ///< of all parts
  const Section& at(std::size_t plane, double scale);

 private:
  const Layout& layout_;
  std::vector<SectionPlane> planes_;
  std::vector<std::size_t> parts_;
  std::map<std::size_t, HatchStyle> styles_;
  Box box_;
  std::map<double, SceneBodies> scenes_;  ///< by scale
  std::map<std::pair<std::size_t, double>, Section> sections_;
};

/// One attempt at the page of a module's sections: the views that show where they run, and each
/// section with the marks of what is cut. Nothing when it does not fit.
std::optional<Drawing> section_drawing(const PageSet& set, const Module& module, ModuleCuts& cuts,
                                       PageSize page, double scale);

/// The same views put into what is free of `area` on another drawing of the module, with marks of
/// what is cut or without. Where `scale` is not the page's their titles tell it. False when they do
/// not fit: then what was drawn is of no use.
bool add_sections(Drawing& d, const PageSet& set, const Module& module, ModuleCuts& cuts,
                  double scale, double page_scale, const Rect& area, bool balloons);

}  // namespace ribbay::detail
