#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "custom.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace ribbay::detail {

namespace {

struct ZoneWord {
  const char* word;
  ZoneKind kind;
};
constexpr std::array<ZoneWord, 5> kZoneWords{{{"keep clear", ZoneKind::keep_clear},
                                              {"head room", ZoneKind::head_room},
                                              {"air", ZoneKind::air},
                                              {"heat", ZoneKind::heat},
                                              {"service", ZoneKind::service}}};

std::vector<std::string> zone_words() {
  std::vector<std::string> words;
  for (const ZoneWord& zone : kZoneWords) words.emplace_back(zone.word);
  return words;
}

/// True when exactly one of two fields is given.
bool one_of(const Record& fields, const char* a, const char* b) {
  return fields.has(a) != fields.has(b);
}

/// Reports "custom.unknown_motion" of one that should come before.
bool is_known_motion(CustomWork& work, const std::string& name, const Record& fields) {
  const std::string& before = fields.text("after");
  std::vector<std::string> known;
  for (const auto& [key, table] : work.request.fields.tables("motions")) {
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
  if (fields.has(other) || required > travel + kSame) {
    work.shop.find(
        work.fault("custom.motion_required", fields.place(fields.has(other) ? other : least), name)
            .with("found", fields.has(other) ? other : least)
            .with("way", turns ? "turns" : "slides"));
    return;
  }
  const Vec3 axis = way(fields.text("axis"));
  Motion motion{
      .id = work.shop.id("motion." + name),
      .title = fields.text_or("title", name),
      .kind = turns ? MotionKind::rotation : MotionKind::translation,
      .parts = {},
      .axis = turns ? work.request.turning_axis_to_van(axis) : work.request.direction_to_van(axis),
      .origin = work.shop.to_van(turns ? fields.vec3("about") : Vec3{}),
      .travel = travel,
      .required = required,
      .gives_way = {}};
  for (const std::string& part : work.all_parts(fields, "moves")) {
    motion.parts.push_back(work.shop.id(part));
  }
  std::ranges::sort(motion.parts);
  if (std::ranges::adjacent_find(motion.parts) != motion.parts.end()) {
    work.shop.find(work.fault("custom.moves_twice", fields.place("moves"), name)
                       .with("found", *std::ranges::adjacent_find(motion.parts)));
    return;
  }
  if (fields.has("after")) {
    if (!is_known_motion(work, name, fields)) return;
    motion.after = work.shop.id("motion." + fields.text("after"));
  }
  if (!motion.parts.empty()) work.shop.made().motions.push_back(std::move(motion));
}

void make_zone(CustomWork& work, const std::string& name, const Record& fields) {
  const auto kind = std::ranges::find_if(
      kZoneWords, [&](const ZoneWord& zone) { return fields.text("kind") == zone.word; });
  // Made in the van's axes, so that a mirrored module has it mirrored.
  Box box;
  box.add(work.shop.to_van(fields.vec3("at")));
  box.add(work.shop.to_van(fields.vec3("at") + fields.vec3("size")));
  Zone zone{.id = work.shop.id("zone." + name),
            .title = fields.text_or("title", name),
            .kind = kind->kind,
            .shape = box_shape({}, box.size()),
            .frame = Frame{.origin = box.lo},
            .owner = work.request.name,
            .allowed = {}};
  if (fields.has("allowed")) {
    for (const std::string& word : fields.texts("allowed")) {
      if (word == "self" || word.find('/') != std::string::npos) {
        zone.allowed.push_back(word == "self" ? work.request.name : word);
        continue;
      }
      for (const std::string& part : work.parts(fields, "allowed", word)) {
        zone.allowed.push_back(work.shop.id(part));
      }
    }
  }
  work.shop.made().zones.push_back(std::move(zone));
}

void make_support(CustomWork& work, const std::string& name, const Record& fields) {
  const std::string& word = fields.text("part");
  for (const std::string& part : work.parts(fields, "part", word)) {
    const Vec3 shift = part == word ? Vec3{} : work.shifts.find(part)->second;
    work.shop.made().supports.push_back({.id = work.shop.id("support." + name + "." + part),
                                         .owner = work.shop.id(part),
                                         .at = work.shop.to_van(fields.vec3("at") + shift),
                                         .load_kg = fields.number("load")});
  }
}

}  // namespace

void make_spaces(CustomWork& work) {
  const Record& fields = work.request.fields;
  for (const auto& [name, motion] : fields.tables("motions")) make_motion(work, name, motion);
  for (const auto& [name, zone] : fields.tables("zones")) make_zone(work, name, zone);
  for (const auto& [name, support] : fields.tables("supports")) make_support(work, name, support);
}

std::vector<Field> space_fields() {
  return {
      keyed_field(
          "motions",
          {FieldMaker{"moves", FieldKind::texts}.items(1, 200).needed().means(
               "the parts that move together; small parts that sit only in these ride along"),
           way_field("axis",
                     "the way it slides, or along the axis it turns about: clockwise, "
                     "looking that way",
                     "front"),
           length_field("slides").above(0).means("how far it slides"),
           angle_field("turns").above(0).means("by how much it turns"),
           vector_field("about").means("a point on the axis it turns about"),
           length_field("must_slide")
               .above(0)
               .means("how far it must open; by default all the way"),
           angle_field("must_turn").above(0).means("how far it must turn; by default all the way"),
           text_field("after").means(
               "another of these motions that has gone all its way when this one begins: a leg "
               "folds, then its leaf drops. `about` is then as it stands at that time"),
           text_field("title").means("what reports call it; by default its name")})
          .means("what opens, slides or folds"),
      keyed_field(
          "zones",
          {vector_field("at").needed().means("its lower left front corner"),
           vector_field("size").needed().above(0).means("to the right, to the back, up"),
           choice_field("kind", zone_words()).otherwise("keep clear").means("what it is for"),
           FieldMaker{"allowed", FieldKind::texts}.items(0, 200).means(
               "parts of this module that may stand in it, \"self\" for all of them, or whole ids "
               "of other modules' parts"),
           text_field("title").means("what reports call it; by default its name")})
          .means("space that must stay free"),
      keyed_field("supports", {text_field("part").needed().means("the part that stands there"),
                               vector_field("at").needed().means(
                                   "where; of what is repeated, for the first"),
                               mass_field("load").needed().at_least(0).means("what it carries")})
          .means("feet of what is heavy")};
}

}  // namespace ribbay::detail
