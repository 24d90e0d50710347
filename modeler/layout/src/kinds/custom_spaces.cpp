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

Box room_bounds(const Vehicle& vehicle) {
  Box room;
  for (const Station& station : vehicle.stations) {
    for (const WallPoint& p : station.left) room.add(Vec3{station.x, p.half_width, p.z});
    for (const WallPoint& p : station.right) room.add(Vec3{station.x, -p.half_width, p.z});
  }
  return room;
}

/// A space that nothing can stand in would always be free.
Finding outside_fault(const CustomWork& work, const std::string& name, const Record& fields,
                      const Box& box) {
  Finding finding = work.fault("custom.zone_outside", fields.place("at"), name);
  for (const int k : {0, 1, 2}) {
    const std::string axis(1, "xyz"[k]);
    finding.with(axis + "_from", box.lo[k], Unit::mm).with(axis + "_to", box.hi[k], Unit::mm);
  }
  return finding;
}

void make_zone(CustomWork& work, const std::string& name, const Record& fields) {
  const auto kind = std::ranges::find_if(
      kZoneWords, [&](const ZoneWord& zone) { return fields.text("kind") == zone.word; });
  // Made in the van's axes, so that a mirrored module has it mirrored.
  Box box;
  box.add(work.shop.to_van(fields.vec3("at")));
  box.add(work.shop.to_van(fields.vec3("at") + fields.vec3("size")));
  if (!near(box, room_bounds(work.request.vehicle), -kContact)) {
    work.shop.find(outside_fault(work, name, fields, box));
    return;
  }
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
  for (const auto& [name, zone] : fields.tables("zones")) make_zone(work, name, zone);
  for (const auto& [name, support] : fields.tables("supports")) make_support(work, name, support);
}

std::vector<Field> space_fields() {
  return {
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
      keyed_field("supports",
                  {text_field("part").needed().means("the part that stands there"),
                   vector_field("at").needed().means("where; of what is repeated, for the first"),
                   mass_field("load").needed().at_least(0).means("what it carries")})
          .means("feet of what is heavy")};
}

}  // namespace ribbay::detail
