#include "changes/changes.hpp"
#include "features.hpp"
#include "reuse.hpp"
#include "turns.hpp"
#include "words.hpp"

#include <algorithm>
#include <map>

namespace ribbay {

using namespace detail;

namespace {

const SectionRecord* section_of(const PartsRecord& record, const std::string& stock) {
  const auto found = record.sections.find(stock);
  return found == record.sections.end() ? nullptr : &found->second;
}

bool same_section(const PartsRecord& before, const PartsRecord& after, const std::string& stock) {
  const SectionRecord* a = section_of(before, stock);
  const SectionRecord* b = section_of(after, stock);
  return (a == nullptr && b == nullptr) || (a != nullptr && b != nullptr && a->digest == b->digest);
}

/// What follows the module in an id: "post.front_left".
std::string_view role_of(const PartRecord& part) {
  return std::string_view(part.id).substr(std::min(part.id.size(), part.module.size()));
}

/// Finds an old piece for each new part.
class Matching {
 public:
  Matching(const BuildRecord& before, const BuildRecord& after)
      : old_(before.parts), fresh_(after.parts), show_(after.parts.show) {
    for (std::size_t i = 0; i < old_.parts.size(); ++i) old_by_id_[old_.parts[i].id] = i;
    taken_by_.assign(old_.parts.size(), kNone);
    source_.assign(fresh_.parts.size(), kNone);
    for (const PartRecord& part : fresh_.parts)
      changes_.push_back({part.id, part.title, part.module, part.stock, size_words(part, show_)});
  }

  void run() {
    keep();
    rename();
    reuse_own();
    reuse_others();
    finish();
  }

  std::vector<PartChange> changes() && { return std::move(changes_); }

 private:
  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);

  std::size_t own_of(std::size_t fresh) const {
    const auto found = old_by_id_.find(fresh_.parts[fresh].id);
    return found == old_by_id_.end() ? kNone : found->second;
  }

  bool same(std::size_t old, std::size_t fresh) const {
    return same_piece(old_, old_.parts[old], fresh_, fresh_.parts[fresh]);
  }

  void take(std::size_t old, std::size_t fresh, Fate fate) {
    taken_by_[old] = fresh;
    source_[fresh] = old;
    changes_[fresh].fate = fate;
  }

  void keep() {
    for (std::size_t f = 0; f < source_.size(); ++f) {
      const std::size_t own = own_of(f);
      if (own != kNone && same(own, f)) take(own, f, Fate::kept);
    }
  }

  /// A renamed module keeps the roles of its parts, so those go first.
  void rename() {
    for (const bool by_role : {true, false}) {
      for (std::size_t f = 0; f < source_.size(); ++f) {
        for (std::size_t o = 0; o < taken_by_.size() && source_[f] == kNone; ++o) {
          if (taken_by_[o] != kNone) continue;
          if (by_role && role_of(old_.parts[o]) != role_of(fresh_.parts[f])) continue;
          if (same(o, f)) take(o, f, Fate::as_other);
        }
      }
    }
  }

  std::optional<Reuse> reuse_of(std::size_t old, std::size_t fresh) const {
    const PartRecord& part = fresh_.parts[fresh];
    if (!same_section(old_, fresh_, part.stock)) return std::nullopt;
    return reuse(old_.parts[old], part, section_of(fresh_, part.stock));
  }

  void take(std::size_t old, std::size_t fresh, const Reuse& how) {
    take(old, fresh, how.sawn ? Fate::recut : Fate::drill);
    changes_[fresh].work = work_words(how, fresh_.parts[fresh], show_);
  }

  void reuse_own() {
    for (std::size_t f = 0; f < source_.size(); ++f) {
      const std::size_t own = own_of(f);
      if (source_[f] != kNone || own == kNone || taken_by_[own] != kNone) continue;
      if (const auto how = reuse_of(own, f)) take(own, f, *how);
    }
  }

  /// As many new parts as possible get an old piece: a maximum matching by augmenting paths.
  void reuse_others() {
    std::vector<std::size_t> open;
    for (std::size_t f = 0; f < source_.size(); ++f) {
      if (source_[f] == kNone) open.push_back(f);
    }
    std::map<std::size_t, std::map<std::size_t, Reuse>> choices;
    for (const std::size_t f : open) {
      for (std::size_t o = 0; o < taken_by_.size(); ++o) {
        if (taken_by_[o] != kNone) continue;
        if (auto how = reuse_of(o, f)) choices[f].emplace(o, std::move(*how));
      }
    }
    std::map<std::size_t, std::size_t> matched;  // old -> new
    for (const std::size_t f : open) {
      std::vector<bool> seen(taken_by_.size(), false);
      find_piece(f, choices, seen, matched);
    }
    for (const auto& [o, f] : matched) take(o, f, choices[f].at(o));
  }

  static bool find_piece(std::size_t fresh,
                         const std::map<std::size_t, std::map<std::size_t, Reuse>>& choices,
                         std::vector<bool>& seen, std::map<std::size_t, std::size_t>& matched) {
    const auto mine = choices.find(fresh);
    if (mine == choices.end()) return false;
    for (const auto& [old, how] : mine->second) {
      if (seen[old]) continue;
      seen[old] = true;
      const auto holder = matched.find(old);
      if (holder != matched.end() && !find_piece(holder->second, choices, seen, matched)) continue;
      matched[old] = fresh;
      return true;
    }
    return false;
  }

  void finish() {
    for (std::size_t f = 0; f < source_.size(); ++f) {
      PartChange& change = changes_[f];
      const std::size_t own = own_of(f);
      change.mark_after = fresh_.parts[f].mark;
      change.is_new = own == kNone;
      if (own != kNone) change.mark_before = old_.parts[own].mark;
      if (source_[f] == kNone) {
        change.fate = Fate::make;
        change.work = making_words(fresh_.parts[f], show_);
        if (own != kNone)
          change.differences = size_differences(old_, old_.parts[own], fresh_, fresh_.parts[f]);
        continue;
      }
      change.from = old_.parts[source_[f]].id;
      if (own != kNone && change.fate != Fate::kept)
        change.differences = differences(old_, old_.parts[own], fresh_, fresh_.parts[f]);
      else if (change.is_new)
        change.mark_before = old_.parts[source_[f]].mark;
    }
    for (std::size_t o = 0; o < taken_by_.size(); ++o) {
      const PartRecord& part = old_.parts[o];
      const bool is_there = std::ranges::binary_search(fresh_.parts, part.id, {}, &PartRecord::id);
      if (is_there) continue;
      PartChange change{part.id, part.title, part.module, part.stock, size_words(part, show_)};
      change.fate = Fate::gone;
      change.mark_before = part.mark;
      if (taken_by_[o] != kNone) change.used_for = fresh_.parts[taken_by_[o]].id;
      changes_.push_back(std::move(change));
    }
  }

  const PartsRecord& old_;
  const PartsRecord& fresh_;
  LengthStyle show_;
  std::map<std::string_view, std::size_t> old_by_id_;
  std::vector<std::size_t> taken_by_;  ///< of each old part: the new one that it becomes
  std::vector<std::size_t> source_;    ///< of each new part: the old one it is made from
  std::vector<PartChange> changes_;
};

std::vector<StockNeed> stock_needs(const PartsRecord& fresh, const std::vector<PartChange>& parts) {
  std::map<std::string, StockNeed> needs;
  for (const PartChange& change : parts) {
    if (change.fate != Fate::make) continue;
    const auto part = std::ranges::lower_bound(fresh.parts, change.id, {}, &PartRecord::id);
    StockNeed& need = needs[part->stock];
    need.stock = part->stock;
    ++need.pieces;
    if (part->kind == PartKind::member || part->kind == PartKind::plank)
      need.length += part->length;
    else
      need.area += part->length * part->width;
  }
  std::vector<StockNeed> list;
  for (auto& [stock, need] : needs) list.push_back(std::move(need));
  return list;
}

std::vector<BoughtChange> bought_changes(const PartsRecord& old, const PartsRecord& fresh) {
  std::map<std::string, BoughtChange> items;
  for (const BoughtRecord& item : old.bought)
    items[item.key] = {item.key, item.title, item.count, 0};
  for (const BoughtRecord& item : fresh.bought) {
    BoughtChange& change = items[item.key];
    change = {item.key, item.title, change.before, item.count};
  }
  std::vector<BoughtChange> list;
  for (auto& [key, change] : items) {
    if (change.before != change.after) list.push_back(std::move(change));
  }
  return list;
}

std::vector<DrawingChange> drawing_changes(const std::vector<DrawingDigest>& old,
                                           const std::vector<DrawingDigest>& fresh) {
  std::map<std::string, std::pair<std::string, std::string>> drawings;
  for (const DrawingDigest& drawing : old) drawings[drawing.path].first = drawing.sha256;
  for (const DrawingDigest& drawing : fresh) drawings[drawing.path].second = drawing.sha256;
  std::vector<DrawingChange> list;
  for (const auto& [path, digests] : drawings) {
    if (digests.first != digests.second)
      list.push_back({path, !digests.first.empty(), !digests.second.empty()});
  }
  return list;
}

}  // namespace

bool same_piece(const PartsRecord& before, const PartRecord& old, const PartsRecord& after,
                const PartRecord& fresh) {
  return old.kind == fresh.kind && old.stock == fresh.stock && old.material == fresh.material &&
         old.grain == fresh.grain && near(old.length, fresh.length) &&
         near(old.width, fresh.width) && near(old.thickness, fresh.thickness) &&
         near(old.height, fresh.height) && old.form == fresh.form &&
         same_section(before, after, fresh.stock) && detail::same(old.outline, fresh.outline) &&
         same_all(old.cuts, fresh.cuts) && same_all(old.bores, fresh.bores) &&
         same_all(old.bends, fresh.bends) && same_all(old.finishes, fresh.finishes);
}

bool ChangeNotice::empty() const {
  return parts.empty() && bought.empty() && (!drawings || drawings->empty());
}

ChangeNotice compare_builds(const BuildRecord& before, const BuildRecord& after) {
  ChangeNotice notice{before.name, after.name, after.parts.show};
  Matching matching(before, after);
  matching.run();
  notice.parts = std::move(matching).changes();
  std::ranges::sort(notice.parts, {}, &PartChange::id);
  notice.kept = static_cast<std::size_t>(std::erase_if(notice.parts, [](const PartChange& change) {
    return change.fate == Fate::kept && change.mark_before == change.mark_after;
  }));
  notice.stock = stock_needs(after.parts, notice.parts);
  notice.bought = bought_changes(before.parts, after.parts);
  if (before.drawings && after.drawings)
    notice.drawings = drawing_changes(*before.drawings, *after.drawings);
  return notice;
}

}  // namespace ribbay
