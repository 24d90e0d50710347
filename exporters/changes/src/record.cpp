#include "catalogue/titles.hpp"
#include "changes/parts_record.hpp"
#include "features.hpp"
#include "turns.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

namespace {

using namespace detail;

std::string digest(const Region& section) {
  return fingerprint(key(Shape{{{{section, 1.0, {}, {}, {}}, {}}}, {}}));
}

SectionRecord section_of(const Profile& profile) {
  SectionRecord record{{profile.width, profile.height}, digest(profile.section), {}};
  for (int number = 0; number < kTurns; ++number) {
    if (digest(turn(profile.section, number)) == record.digest) record.turns.push_back(number);
  }
  return record;
}

FinishRecord finish_of(const Covering& covering, const Loop& outline) {
  FinishRecord record{covering.finish,    covering.face,     covering.back, {},
                      covering.thickness, covering.turn_over};
  for (const std::size_t edge : covering.edges) {
    if (edge >= outline.size()) continue;
    record.edges.push_back((outline[edge].at + outline[(edge + 1) % outline.size()].at) * 0.5);
  }
  return record;
}

/// As parts.json has it: a build compares alike with the file and with the layout it was made from.
void round(double& value) {
  value = std::round(value * 1e6) / 1e6 + 0.0;  // never -0
}
void round(Vec2& p) {
  round(p.x);
  round(p.y);
}
void round(Vec3& p) {
  for (int axis = 0; axis < 3; ++axis) round(p[axis]);
}
void round(Loop& loop) {
  for (Corner& corner : loop) {
    round(corner.at);
    round(corner.radius);
  }
}

void round(PartRecord& part) {
  for (double* value : {&part.length, &part.width, &part.thickness, &part.height}) round(*value);
  round(part.finished);
  round(part.outline.outer);
  for (Loop& hole : part.outline.holes) round(hole);
  for (Cut& cut : part.cuts) {
    round(cut.outline);
    round(cut.from);
    round(cut.to);
  }
  for (Bore& bore : part.bores) {
    round(bore.at);
    round(bore.direction);
    round(bore.diameter);
    round(bore.depth);
  }
  for (BendLine& bend : part.bends) {
    round(bend.a);
    round(bend.b);
    round(bend.angle);
    round(bend.radius);
  }
  for (FinishRecord& finish : part.finishes) {
    for (Vec2& edge : finish.edges) round(edge);
    round(finish.thickness);
    round(finish.turn_over);
  }
}

PartRecord record_of(const Part& part, const std::string& mark) {
  PartRecord record;
  record.id = part.id;
  record.module = part.module;
  record.title = part.title;
  record.mark = mark;
  record.kind = part.kind;
  record.stock = part.stock.key;
  record.material = part.material;
  record.length = part.stock.length;
  record.width = part.stock.width;
  record.thickness = part.stock.thickness;
  record.grain = part.stock.grain;
  record.finished = bounds(part.body()).size();

  const Prism& blank = part.flat ? part.flat->blank : part.shape->prisms.front().prism;
  record.height = blank.height;
  record.cuts = blank.cuts;
  record.bores = blank.bores;
  if (part.flat) record.bends = part.flat->bends;
  if (!part.flat && part.shape->prisms.size() > 1) record.form = fingerprint(key(*part.shape));
  const Loop& outline = part.shape->prisms.front().prism.section.outer;
  for (const Covering& covering : part.coverings)
    record.finishes.push_back(finish_of(covering, part.flat ? blank.section.outer : outline));
  if (part.kind != PartKind::member) {
    record.outline = blank.section;
    const Box box = bounds_of(record.outline.outer);
    move(record, {-box.lo.x, -box.lo.y, 0.0});
  }
  round(record);
  return record;
}

}  // namespace

PartsRecord record_parts(const Layout& layout) {
  PartsRecord record{layout.project.name, layout.project.show, {}, {}, {}};
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t index : type.parts)
      record.parts.push_back(record_of(layout.parts[index], type.mark));
  }
  std::ranges::sort(record.parts, {}, &PartRecord::id);
  for (const PartRecord& part : record.parts) {
    if (part.kind != PartKind::member || record.sections.contains(part.stock)) continue;
    record.sections.emplace(part.stock, section_of(layout.catalogue->profiles.at(part.stock)));
  }
  std::map<std::string, BoughtRecord> bought;
  for (const Part& part : layout.parts) {
    if (!is_bought(part)) continue;
    BoughtRecord& item = bought[part.stock.key];
    if (item.count++ > 0) continue;
    const std::string title =
        layout.catalogue ? stock_title(*layout.catalogue, part.stock.key) : part.stock.key;
    item.key = part.stock.key;
    item.title = title == part.stock.key ? part.title : title;
  }
  for (auto& [key, item] : bought) record.bought.push_back(std::move(item));
  return record;
}

}  // namespace ribbay
