#pragma once

#include "base/output_file.hpp"
#include "layout/layout.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// One project in one van: what came of it.
struct VanRun {
  std::string name;  ///< of the vehicle file, without folder and ending: "long_mid"
  std::string file;  ///< as the project or the command line names it
  std::optional<Layout> layout;  ///< nullopt: it could not be laid out
  Findings findings;             ///< of reading, laying out and checking, sorted
};

/// A project in several vans; the first is the one that the others are compared with.
struct VanComparison {
  std::string project;
  std::string title;
  std::string file;
  LengthStyle show = LengthStyle::millimetres;
  std::vector<VanRun> vans;
};

/// What another van makes of one module.
enum class Change {
  unknown,  ///< one of the two could not be laid out
  same,   ///< every cut part has its size and shape again
  size,   ///< some parts must be cut otherwise
  added,  ///< the first van has no such module
  gone    ///< the first van alone has it
};

/// One module in one van.
struct ModuleInVan {
  std::optional<Vec3> size;   ///< width, depth, height as seen from its front, mm
  std::size_t errors = 0;     ///< findings that name the module, one of its parts or a value of it
  std::size_t warnings = 0;
  std::size_t cut_anew = 0;   ///< made parts that differ from the first van's, or are not in it
  std::size_t left_over = 0;  ///< made parts of the first van that are not needed
  Change change = Change::unknown;
};

struct ModuleRow {
  std::string name;
  std::string title;
  std::vector<ModuleInVan> vans;  ///< in the order of the comparison
};

/// A made part whose cut size or shape is not the same in all vans.
struct PartRow {
  std::string id;
  std::string title;
  std::vector<std::string> sizes;  ///< "682 x 300 x 12", "-" where there is none, in the shown unit
};

/// The rows of a comparison, as a table wants them: modules in the order of the first van that has
/// them, then parts by id; none when the first van could not be laid out.
std::vector<ModuleRow> module_rows(const VanComparison& comparison);
std::vector<PartRow> part_rows(const VanComparison& comparison);

/// For the screen: what passes in which van, which sizes change, and every finding.
std::string vans_text(const VanComparison& comparison);

/// vans.csv (one row a module and van), van_parts.csv (a made part that differs a row, a column for
/// each van) and vans.html (all of it, to look at and to print; nothing is loaded from elsewhere).
OutputFiles vans_files(const VanComparison& comparison);

}  // namespace ribbay
