#pragma once

#include "catalogue/catalogue.hpp"
#include "spec/evaluator.hpp"

#include <array>

namespace ribbay::detail {

/// Reads a document's catalogue tables into a Catalogue, what is referred to before what refers.
/// Each add_... checks one entry and takes it in, or reports why not.
class CatalogueReader {
 public:
  explicit CatalogueReader(const Document& document);
  Built<Catalogue> read();

 private:
  using Add = void (CatalogueReader::*)(const std::string& key, const Record& record);

  // read_stock.cpp
  void add_material(const std::string& key, const Record& record);
  void add_profile(const std::string& key, const Record& record);
  void add_sheet(const std::string& key, const Record& record);
  void add_plank(const std::string& key, const Record& record);
  void add_finish(const std::string& key, const Record& record);
  bool finish_has_its_fields(const std::string& key, const Record& record);

  // read_hardware.cpp
  void add_bolt(const std::string& key, const Record& record);
  void add_nut(const std::string& key, const Record& record);
  void add_slide(const std::string& key, const Record& record);
  void add_hinge(const std::string& key, const Record& record);
  void add_butt_hinge(const std::string& key, const Record& record);
  void add_bracket(const std::string& key, const Record& record);
  void add_plate(const std::string& key, const Record& record);
  void add_connector(const std::string& key, const Record& record);
  void add_dowel(const std::string& key, const Record& record);
  void add_gasket(const std::string& key, const Record& record);
  void add_handle(const std::string& key, const Record& record);
  bool threads_agree(const std::string& key, const Record& record, const Bolt& bolt,
                     const std::string& nut);
  bool holes_inside(const Plate& plate, const Record& record, double head);

  // read_equipment.cpp
  void add_fitting(const std::string& key, const Record& record);
  /// Reports "catalogue.no_such_body" of what folds.
  void add_folds(Fitting& item, const Record& record);
  void add_equipment(const std::string& key, const Record& record);
  static std::vector<EquipmentBox> read_boxes(const Record& record);
  std::vector<FixingHole> read_holes(const std::string& key, const Record& record,
                                     const std::string& field, const Box& body);
  void check_body(const std::string& key, const Record& record);
  void check_inside(const std::string& key, const Record& point, const std::string& what,
                    const Box& body);
  void check_start(const Equipment& item, const Record& record);
  void add_feet(Equipment& item, const Record& record);
  void add_ports(Equipment& item, const Record& record);
  void add_opens(Equipment& item, const Record& record);
  bool good_hinge(const Equipment& item, const OpensFront& front, const Record& record);
  bool good_leaf(const Equipment& item, const OpensFront& front, const Record& record);
  void check_symmetry(const Equipment& item, const Record& record);

  // read_shape.cpp
  ShapePtr read_shape(const std::string& key, const Record& record);

  // read_catalogue.cpp
  std::optional<std::vector<std::string>> written(std::string_view kind) const;
  void declare_all();
  void each(const std::string& kind, Add add);
  Finding& report(std::string code, const Place& place, std::string subject);
  void report_missing(const std::string& subject, const Record& record, const std::string& family,
                      const std::string& field);
  bool good_colour(const std::string& key, const Record& record);
  bool larger(const std::string& key, const Record& record, std::string_view field, double than,
              std::string_view other, Unit unit = Unit::mm);
  template <class Item>
  void check_pairs(const std::string& kind, std::map<std::string, Item, std::less<>>& items);

  /// Fills what all entries have.
  template <class Item>
  static Item named(const std::string& key, const Record& record, Item item = {}) {
    item.key = key;
    item.title = record.text_or("title", key);
    item.provenance = {record.text_or("source", ""), record.text_or("date", ""),
                       record.flag("assumption")};
    if constexpr (requires { item.mirror; }) {
      item.mirror = {record.text("mirror") == "symmetric", record.text_or("pair", "")};
    }
    return item;
  }

  const Document& document_;
  Evaluator evaluator_;
  Findings findings_;
  Catalogue catalogue_;
};

}  // namespace ribbay::detail
