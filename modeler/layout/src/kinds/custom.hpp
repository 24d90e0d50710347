#pragma once

#include "carcass.hpp"
#include "joints.hpp"
#include "spec/fields.hpp"

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

/// A module told part by part: what the files of the kind "custom" share.
namespace ribbay::detail {

/// The words for directions in a module, seen from in front of it.
const std::vector<std::string>& ways();
/// The unit axis of one of them.
Vec3 way(std::string_view word);

/// One of the things that an entry makes, and how far it stands from the first of them.
struct Copy {
  std::string name;  ///< "slat", or "slat_1" and so on where it is repeated
  Vec3 shift;
};

/// What is made, and what the parts of the file are called.
struct CustomWork {
  const ModuleRequest& request;
  Workshop& shop;
  Workpieces pieces{};  ///< members and panels, until they are made
  std::map<std::string, std::vector<std::string>, std::less<>>
      names{};  ///< of entries and of their copies: the parts that they stand for
  std::map<std::string, Vec3, std::less<>> shifts{};  ///< of copies: from the first of their entry
  std::set<std::string, std::less<>> failed{};        ///< names of entries that could not be made

  /// The copies of an entry, known from now on by their names and all together by that of the
  /// entry. Reports "custom.same_name".
  std::vector<Copy> copies(const std::string& name, const Record& fields);
  /// An error about a part, at a place of the file.
  Finding fault(const char* code, const Place& place, const std::string& name) const;
  /// Makes the entries of a table one by one, and notes those that came to nothing.
  void make_each(const char* table,
                 void (*make)(CustomWork&, const std::string& name, const Record& fields),
                 const char* prefix = "");
  /// The parts that a word of `field` stands for. Reports "custom.unknown_part" with the nearest;
  /// none, without a report, of an entry that could not be made.
  std::vector<std::string> parts(const Record& fields, const char* field, const std::string& word);
  /// As above for all words of a list.
  std::vector<std::string> all_parts(const Record& fields, const char* field);
};

/// Panels that lie with a joiner while hinges or slides are screwed on, as an entry of a table
/// asks.
class Joiner {
 public:
  Joiner(CustomWork& work, const std::string& table, const std::string& name, const Record& fields);
  Joiner(const Joiner&) = delete;
  Joiner& operator=(const Joiner&) = delete;
  /// Takes a panel to the joiner; members stay where they are.
  void take(Workpiece& piece);
  Carcass carcass() { return {request_, work_.shop, joinery_}; }
  const ModuleRequest& request() const { return request_; }
  AskedBy asked(std::string_view field) const { return {request_.fields, request_.name, field}; }
  /// Hands the panels back, drilled, and tells what does not fit.
  void give_back();

 private:
  CustomWork& work_;
  ModuleRequest request_;  ///< its fields are those of the entry
  Joinery joinery_;
  std::map<Workpiece*, ShapedBoard*> taken_{};
};

/// Tables whose entries are motions, and how one is called: all their names differ.
std::string motion_id(const CustomWork& work, const std::string& name);
/// Reports "custom.same_name" of an entry whose name another motion has too.
bool is_only_motion(CustomWork& work, const std::string& name, const Record& fields);
/// Adds the motion of an entry: its id, its title, what else it `moves` and what it comes `after`.
void add_motion(CustomWork& work, const std::string& name, const Record& fields, Motion motion);

/// The one panel that a word of `field` stands for; nullptr, without a report, of anything else.
Workpiece* one_panel(CustomWork& work, const Record& fields, const char* field);

/// Each makes the entries of one or more tables.
void make_members(CustomWork& work);
void make_panels(CustomWork& work);
void make_bent(CustomWork& work);
/// Boards with tongue and groove on the panels and members that lie on the bench.
void make_planks(CustomWork& work);
/// Handles; hinges with their screws and what they let open.
void make_hinges(CustomWork& work);
void make_cup_hinges(CustomWork& work);
/// Slides with their screws and what they let out.
void make_slides(CustomWork& work);
/// Whether they bear what rides on them and are kept in; when all parts are made.
void check_slides(CustomWork& work);
/// Fittings, equipment and single screws.
void make_bought(CustomWork& work);
/// Joints that drill or cut, and those that need nothing made; brackets follow when the parts are
/// made.
void make_joints(CustomWork& work);
void make_brackets(CustomWork& work);
/// What opens, slides or folds; when all parts are made.
void make_motions(CustomWork& work);
/// Zones and supports.
void make_spaces(CustomWork& work);

/// The fields of each table.
Field members_field();
Field panels_field();
Field bent_field();
Field custom_planks_field();
std::vector<Field> hinge_fields();
Field cup_hinges_field();
Field slides_field();
std::vector<Field> bought_fields();
Field joints_field();
Field motions_field();
std::vector<Field> space_fields();

/// Fields that several tables have.
Field copies_field();
Field moves_field(std::string meaning);
Field after_field();
Field motion_title_field();
Field part_title_field();
/// As told, or the name as words: "Front post".
std::string part_title(const Record& fields, std::string name);
/// A point or a size in the plane of a sheet, mm.
FieldMaker flat_field(std::string name);
Field way_field(std::string name, std::string meaning, std::string otherwise = {});
/// What a hole is for, and the role that the word means.
Field hole_use_field();
BoreRole hole_use(const Record& hole);
/// Reports "custom.hole_too_deep" of a hole that is deeper than what it is drilled in.
bool is_too_deep(CustomWork& work, const Record& hole, const std::string& part, double depth,
                 double thickness);

}  // namespace ribbay::detail
