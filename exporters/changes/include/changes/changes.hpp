#pragma once

#include "changes/parts_record.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// A drawing as a build wrote it.
struct DrawingDigest {
  std::string path;    ///< "drawings/010-rack.svg"
  std::string sha256;  ///< of what it shows, its date of issue left out
};

/// One side of a comparison.
struct BuildRecord {
  std::string name;  ///< as the builder named it: a folder or a project file
  PartsRecord parts;
  std::optional<std::vector<DrawingDigest>>
      drawings{};  ///< sorted by path; nullopt: none were made
};

/// What becomes of a part. Old pieces are looked for in this order, each used once at most; of two
/// old pieces that serve equally, the one whose id comes first is taken.
///  1. `kept`: the part of the same id is the same piece (see same_piece()).
///  2. `as_other`: another old part, gone or changed itself, is the same piece: a renamed module.
///  3. `drill`, `recut`: from its own old part, see reuse() in reuse.hpp; else from any that is
///     left, so that as many new parts as possible come out of old ones.
///  4. `make`: from new material.
enum class Fate { kept, as_other, drill, recut, make, gone };

/// One thing that is not as before: "length" from "682" to "640". Empty: there was, or is, none.
struct Difference {
  std::string what;
  std::string before;
  std::string after;
};

/// A part that is new, gone, changed, or the same under another name or mark.
struct PartChange {
  std::string id;  ///< of the new part; of the old one when it is gone
  std::string title;
  std::string module;
  std::string stock;
  std::string size;  ///< as cut, in the shown unit
  Fate fate = Fate::kept;
  bool is_new = false;  ///< no old part has its id
  std::string mark_before{};
  std::string mark_after{};
  std::string from{};      ///< id of the old part that it is, or is made from
  std::string used_for{};  ///< of what is gone: id of the new part that takes it; empty: left over
  /// From the old part of the same id; of what is made anew its sizes and stock alone.
  std::vector<Difference> differences{};
  std::vector<std::string> work{};  ///< what is to be done to the old part, or to new material
};

/// New material for the parts that are made anew.
struct StockNeed {
  std::string stock;
  int pieces = 0;
  double length = 0.0;  ///< of profiles and planks together, finished lengths, mm; else 0
  double area = 0.0;    ///< of sheets together, the rectangles around the pieces, mm2; else 0
};

struct BoughtChange {
  std::string key;
  std::string title;
  int before = 0;
  int after = 0;
};

/// A drawing on the shop's wall: to be replaced when both hold it, new, or to be taken down.
struct DrawingChange {
  std::string path;
  bool before = false;
  bool after = false;
};

/// What differs between two builds.
struct ChangeNotice {
  std::string before;
  std::string after;
  LengthStyle show = LengthStyle::millimetres;
  std::size_t kept = 0;             ///< parts that are as they were, mark and all
  std::vector<PartChange> parts{};  ///< sorted by id, gone ones among them
  std::vector<StockNeed> stock{};
  std::vector<BoughtChange> bought{};
  std::optional<std::vector<DrawingChange>> drawings{};  ///< nullopt: not made on one side

  bool empty() const;  ///< nothing at all differs
};

/// Whether two records are the same piece of work: stock, sizes, outline, section, cuts, holes,
/// bends and finishes agree, lengths to kContact. Names, marks, places in the van and what a hole
/// is for do not count.
bool same_piece(const PartsRecord& before, const PartRecord& old, const PartsRecord& after,
                const PartRecord& fresh);

ChangeNotice compare_builds(const BuildRecord& before, const BuildRecord& after);

/// For the screen and shop/changes.txt.
std::string changes_text(const ChangeNotice& notice);

/// Lengths as texts in the shown unit, amounts of stock in mm and mm2.
std::string changes_json(const ChangeNotice& notice);

/// changes.html (a page to print, with a box to tick for each thing to do), changes.csv (a row for
/// each difference, step of work, stock, item and drawing) and changes.txt, below `folder`, which is
/// empty or ends in '/'.
OutputFiles changes_files(const ChangeNotice& notice, const std::string& folder = "shop/");

}  // namespace ribbay
