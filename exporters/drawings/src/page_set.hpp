#pragma once

#include "drawings/dimension.hpp"
#include "drawings/drawings.hpp"
#include "drawings/part_words.hpp"
#include "drawings/sheet.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

/// What all drawings of one set share.
namespace ribbay::detail {

struct PageSet {
  const Layout& layout;
  bool not_for_cutting = false;
  std::vector<PartType> types;
  std::vector<CalledGap> gaps{};
};

/// Fields of the title block that are the same on every page of the set.
TitleBlock title_block(const PageSet& set);
/// "MARSH-M1".
std::string document_number(const PageSet& set, const std::string& suffix);
/// A part that is made by its mark and module, another by its title, a body of the van by its name.
std::string said_of(const PageSet& set, const std::string& id);
/// The page with its stamp, when the set has one.
Drawing open_page(const PageSet& set, PageSize size, const TitleBlock& block);
/// "drawings/NNN-name.svg", the name in letters that are safe in any file system.
SetPage page_of(int number, const std::string& name, const std::string& what, Drawing drawing);
/// For what no attempt could lay out: silence would look like a complete set.
Drawing undrawn_page(const PageSet& set, const TitleBlock& block);
/// Where on the page views and tables may stand: inside the frame, under the stamp.
Rect usable_area(const Drawing& drawing, bool stamped);

/// One attempt at a drawing: which page, which letters, how many scales below the largest that
/// fits, and whether all that can stand in tables does.
struct Attempt {
  PageSize page = PageSize::a4;
  double letters = 3.5;
  int smaller = 0;
  bool tabled = false;
};

/// The scale `steps` below `scale` in the series of ISO 5455.
double smaller_scale(double scale, int steps);

}  // namespace ribbay::detail
