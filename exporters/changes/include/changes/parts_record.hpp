#pragma once

#include "base/output_file.hpp"
#include "base/result.hpp"
#include "layout/layout.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace ribbay {

/// Where parts.json lies below an output folder.
inline constexpr std::string_view kPartsPath = "shop/parts.json";

/// A finish on a part: Covering, its edges named by the middles of their sides, corner to corner.
struct FinishRecord {
  std::string finish;  ///< catalogue key
  bool face = false;
  bool back = false;
  std::vector<Vec2> edges{};
  double thickness = 0.0;  ///< mm
  double turn_over = 0.0;  ///< mm
};

/// What a made part is, wherever it stands in the van: two parts whose records agree but for their
/// names are the same piece of work. Millimetres. Coordinates are the part's own: of a panel, plank
/// or blank the face lies in xy and its lowest corner at 0, 0; of a member z runs along it from 0
/// and the section is centred.
struct PartRecord {
  std::string id;
  std::string module;
  std::string title;
  std::string mark;
  PartKind kind = PartKind::panel;
  std::string stock;       ///< catalogue key
  std::string material;    ///< catalogue key, may be empty
  double length = 0.0;     ///< as it is cut; along the grain of a panel that has one
  double width = 0.0;      ///< 0 for members
  double thickness = 0.0;  ///< 0 for members
  bool grain = false;
  Vec3 finished;        ///< size along its own axes with all its finishes, bent where it is bent
  double height = 0.0;  ///< of the blank along z: the thickness, or the length of a member
  Region outline;       ///< of the blank; empty for members, which have the section of their stock
  std::vector<Cut> cuts{};
  std::vector<Bore> bores{};
  std::vector<BendLine> bends{};
  std::vector<FinishRecord> finishes{};
  std::string form{};  ///< digest of the shape where a blank does not tell all of it; else empty
};

/// The section of a profile, as far as changes ask for it.
struct SectionRecord {
  Vec2 size;           ///< mm
  std::string digest;  ///< of its outline
  /// Rotations and reflections of the plane that map it to itself, as numbers of turn() in
  /// src/turns.hpp; 0, no turn at all, is always there.
  std::vector<int> turns;
};

/// Bought hardware or equipment, counted.
struct BoughtRecord {
  std::string key;
  std::string title;
  int count = 0;
};

/// All that the shop makes and buys for one build: what parts.json holds.
struct PartsRecord {
  std::string project;
  LengthStyle show = LengthStyle::millimetres;
  std::vector<PartRecord> parts;                  ///< sorted by id
  std::map<std::string, SectionRecord> sections;  ///< by key of the profile
  std::vector<BoughtRecord> bought;               ///< sorted by key
};

/// The record of a layout.
PartsRecord record_parts(const Layout& layout);

/// parts.json, schema in params/parts.schema.json: lengths in mm rounded to 1e-6, keys in a fixed
/// order, UTF-8, a line feed at the end.
OutputFile parts_file(const PartsRecord& record);

/// Reads what parts_file() wrote; `name` is the file for messages. Fails with "changes.not_json",
/// with line and column, with "changes.damaged" when a value is missing, of the wrong type or
/// impossible, with its path in the file, or with "changes.newer".
Result<PartsRecord> read_parts(std::string_view bytes, const std::string& name);

}  // namespace ribbay
