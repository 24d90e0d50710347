#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "custom.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <numbers>
#include <utility>

namespace ribbay::detail {

namespace {

/// A part turns about an axis that passes through it or along it: arms and swing hinges hold it at
/// some distance, and none of those is this long (common practice, no source).
constexpr double kFarHinge = 300.0;

constexpr std::array<const char*, 4> kMotionTables{"motions", "hinges", "cup_hinges", "slides"};

/// All entries that are motions, and their names.
std::vector<std::pair<std::string, const Record*>> told_motions(const CustomWork& work) {
  std::vector<std::pair<std::string, const Record*>> all;
  for (const char* table : kMotionTables) {
    for (const auto& [name, fields] : work.request.fields.tables(table))
      all.emplace_back(name, &fields);
  }
  return all;
}

/// True when exactly one of two fields is given.
bool one_of(const Record& fields, const char* a, const char* b) {
  return fields.has(a) != fields.has(b);
}

/// Reports "custom.unknown_motion" of one that should come before.
bool is_known_motion(CustomWork& work, const std::string& name, const Record& fields) {
  const std::string& before = fields.text("after");
  std::vector<std::string> known;
  for (const auto& [key, table] : told_motions(work)) {
    if (key != name) known.push_back(key);
  }
  if (std::ranges::find(known, before) != known.end()) return true;
  Finding finding = work.fault("custom.unknown_motion", fields.place("after"), name);
  finding.with("found", before);
  finding.with("known", known.empty() ? "none" : ribbay::join(known, ", "));
  if (const std::string near = nearest(before, known); !near.empty()) finding.with("nearest", near);
  work.shop.find(std::move(finding));
  return false;
}

void make_motion(CustomWork& work, const std::string& name, const Record& fields) {
  if (!one_of(fields, "slides", "turns")) {
    work.shop.find(work.fault("custom.motion_way", fields.place(), name));
    return;
  }
  const bool turns = fields.has("turns");
  if (turns != fields.has("about")) {
    work.shop.find(
        work.fault("custom.motion_about", fields.place(turns ? "turns" : "about"), name));
    return;
  }
  const double travel = fields.number(turns ? "turns" : "slides");
  const char* least = turns ? "must_turn" : "must_slide";
  const char* other = turns ? "must_slide" : "must_turn";
  const double required = fields.number_if(least).value_or(travel);
  const char* way_word = turns ? "turns" : "slides";
  if (fields.has(other)) {
    work.shop.find(work.fault("custom.motion_other", fields.place(other), name)
                       .with("found", other)
                       .with("way", way_word)
                       .with("other", turns ? "slides" : "turns")
                       .with("instead", least));
    return;
  }
  if (required > travel + kSame) {
    work.shop.find(work.fault("custom.motion_required", fields.place(least), name)
                       .with("found", least)
                       .with("way", way_word));
    return;
  }
  const Vec3 axis = way(fields.text("axis"));
  Motion motion{
      .id = motion_id(work, name),
      .title = fields.text_or("title", name),
      .kind = turns ? MotionKind::rotation : MotionKind::translation,
      .parts = {},
      .axis = turns ? work.request.turning_axis_to_van(axis) : work.request.direction_to_van(axis),
      .origin = work.shop.to_van(turns ? fields.vec3("about") : Vec3{}),
      .travel = travel,
      .required = required,
      .gives_way = {}};
  const std::vector<std::string> moves = work.all_parts(fields, "moves");
  std::vector<std::string> once = moves;
  std::ranges::sort(once);
  if (const auto twice = std::ranges::adjacent_find(once); twice != once.end()) {
    work.shop.find(work.fault("custom.moves_twice", fields.place("moves"), name)
                       .with("found", work.shop.id(*twice)));
    return;
  }
  if (!moves.empty()) add_motion(work, name, fields, std::move(motion));
}

/// The motions from the one that comes first to `motion`; ends where they go in a circle.
std::vector<const Motion*> row_to(const std::vector<Motion>& motions, const Motion& motion) {
  std::vector<const Motion*> row{&motion};
  while (!row.front()->after.empty()) {
    const auto before = std::ranges::find(motions, row.front()->after, &Motion::id);
    if (before == motions.end() || std::ranges::find(row, &*before) != row.end()) break;
    row.insert(row.begin(), &*before);
  }
  return row;
}

/// Reports "custom.motion_circle" at each motion that comes before itself.
bool goes_in_circle(CustomWork& work, const std::vector<const Motion*>& row, const Motion& motion,
                    const std::string& name, const Record& fields) {
  if (row.front()->after != motion.id) return false;
  std::vector<std::string> ids;
  for (const Motion* each : row) ids.push_back(each->id);
  ids.insert(ids.begin(), motion.id);
  work.shop.find(work.fault("custom.motion_circle", fields.place("after"), name)
                     .with("path", ribbay::join(ids, ", then ")));
  return true;
}

/// Where a part stands when the motions before `motion` have gone all their way; nullopt where one
/// of them has turned it.
std::optional<Box> box_then(const Part& part, const std::vector<const Motion*>& row) {
  Box box = bounds(part);
  for (const Motion* before : row) {
    if (before == row.back() || std::ranges::find(before->parts, part.id) == before->parts.end())
      continue;
    if (before->kind == MotionKind::rotation) return std::nullopt;
    box = {box.lo + before->axis * before->travel, box.hi + before->axis * before->travel};
  }
  return box;
}

/// Reports "custom.hinge_far" of an axis that passes far from all that turns about it.
void check_hinge(CustomWork& work, const std::vector<const Motion*>& row, const std::string& name,
                 const Record& fields) {
  const Motion& motion = *row.back();
  if (motion.kind != MotionKind::rotation) return;
  double least = std::numeric_limits<double>::infinity();
  for (const Part& part : work.shop.made().parts) {
    if (std::ranges::find(motion.parts, part.id) == motion.parts.end()) continue;
    const auto box = box_then(part, row);
    if (!box) return;
    Vec3 apart;  // from the axis to the box, across the axis
    for (int k = 0; k < 3; ++k)
      apart[k] = std::max({box->lo[k] - motion.origin[k], motion.origin[k] - box->hi[k], 0.0});
    least = std::min(least, length(apart - motion.axis * dot(apart, motion.axis)));
  }
  if (least <= kFarHinge || least == std::numeric_limits<double>::infinity()) return;
  work.shop.find(work.fault("custom.hinge_far", fields.place("about"), name)
                     .with("measured", least, Unit::mm)
                     .with("required", kFarHinge, Unit::mm));
}

}  // namespace

std::string motion_id(const CustomWork& work, const std::string& name) {
  return work.shop.id("motion." + name);
}

bool is_only_motion(CustomWork& work, const std::string& name, const Record& fields) {
  const auto all = told_motions(work);
  const auto same = [&](const auto& told) { return told.first == name; };
  if (std::ranges::count_if(all, same) == 1) return true;
  work.shop.find(work.fault("custom.same_name", fields.place(), name));
  return false;
}

void add_motion(CustomWork& work, const std::string& name, const Record& fields, Motion motion) {
  if (fields.has("after")) {
    if (!is_known_motion(work, name, fields)) return;
    motion.after = motion_id(work, fields.text("after"));
  }
  motion.id = motion_id(work, name);
  if (fields.has("moves")) {
    for (const std::string& part : work.all_parts(fields, "moves"))
      motion.parts.push_back(work.shop.id(part));
  }
  std::ranges::sort(motion.parts);
  motion.parts.erase(std::unique(motion.parts.begin(), motion.parts.end()), motion.parts.end());
  work.shop.made().motions.push_back(std::move(motion));
}

void make_motions(CustomWork& work) {
  for (const auto& [name, fields] : work.request.fields.tables("motions")) {
    if (is_only_motion(work, name, fields)) make_motion(work, name, fields);
  }
  const std::vector<Motion>& motions = work.shop.made().motions;
  for (const auto& [name, fields] : told_motions(work)) {
    const auto made = std::ranges::find(motions, motion_id(work, name), &Motion::id);
    if (made == motions.end()) continue;
    const std::vector<const Motion*> row = row_to(motions, *made);
    const bool circle = goes_in_circle(work, row, *made, name, *fields);
    if (!circle && fields->has("about")) check_hinge(work, row, name, *fields);
  }
}

Field moves_field(std::string meaning) {
  return FieldMaker{"moves", FieldKind::texts}.items(1, 200).means(std::move(meaning));
}

Field after_field() {
  return text_field("after").means(
      "another motion of this module, its hinges and slides among them, that has gone all its way "
      "when this one begins: a door opens, then the drawer behind it comes out");
}

Field motion_title_field() {
  return text_field("title").means("what reports call it; by default its name");
}

Field motions_field() {
  return keyed_field(
             "motions",
             {FieldMaker{"moves", FieldKind::texts}.items(1, 200).needed().means(
                  "the parts that move together; small parts that sit only in these ride along"),
              way_field("axis",
                        "the way it slides, or along the axis it turns about: clockwise, "
                        "looking that way",
                        "front"),
              length_field("slides").above(0).means("how far it slides"),
              angle_field("turns")
                  .above(0)
                  .at_most(2 * std::numbers::pi)
                  .means("by how much it turns"),
              vector_field("about").means("a point on the axis it turns about"),
              length_field("must_slide")
                  .above(0)
                  .means("how far it must open; by default all the way"),
              angle_field("must_turn")
                  .above(0)
                  .means("how far it must turn; by default all the way"),
              text_field("after").means(
                  "another motion of this module, its hinges and slides among them, that has gone "
                  "all its way when this one begins: a leg folds, then its leaf drops. `about` is "
                  "then as it stands at that time"),
              motion_title_field()})
      .means("what opens, slides or folds");
}

}  // namespace ribbay::detail
