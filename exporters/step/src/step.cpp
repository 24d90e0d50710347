#include "step/step.hpp"

#include "canonical.hpp"
#include "product_tree.hpp"
#include "solids_kernel/guarded.hpp"
#include "solids_kernel/shape.hpp"

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_Copy.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPControl_Controller.hxx>
#include <StepBasic_DerivedUnitElement.hxx>
#include <StepBasic_NamedUnit.hxx>
#include <StepBasic_SiUnitAndMassUnit.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <TCollection_ExtendedString.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDF_Label.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_MaterialTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_WorkSession.hxx>

#include <charconv>
#include <map>
#include <mutex>
#include <optional>
#include <set>
#include <sstream>

namespace ribbay {

namespace {

Handle(TCollection_HAsciiString) ascii(const std::string& text) {
  return new TCollection_HAsciiString(text.c_str());
}

void set_name(const TDF_Label& label, const std::string& utf8) {
  TDataStd_Name::Set(label, TCollection_ExtendedString(utf8.c_str(), true));
}

/// "#rrggbb" as the kernel's colour.
std::optional<Quantity_Color> colour_of(const std::string& text) {
  unsigned value = 0;
  if (text.size() != 7 || text[0] != '#') return std::nullopt;
  const auto [end, error] = std::from_chars(text.data() + 1, text.data() + 7, value, 16);
  if (error != std::errc{} || end != text.data() + 7) return std::nullopt;
  const auto channel = [&](unsigned shift) { return ((value >> shift) & 255U) / 255.0; };
  return Quantity_Color(channel(16), channel(8), channel(0), Quantity_TOC_sRGB);
}

/// A document of the kernel's product structure, closed when it goes out of scope.
class KernelDocument {
 public:
  KernelDocument() { XCAFApp_Application::GetApplication()->NewDocument("BinXCAF", document_); }
  ~KernelDocument() { XCAFApp_Application::GetApplication()->Close(document_); }
  KernelDocument(const KernelDocument&) = delete;
  KernelDocument& operator=(const KernelDocument&) = delete;
  const Handle(TDocStd_Document) & get() const { return document_; }

 private:
  Handle(TDocStd_Document) document_;
};

/// Labels of the catalogue's materials, made on first use.
class Materials {
 public:
  Materials(const Catalogue* catalogue, Handle(XCAFDoc_MaterialTool) tool)
      : catalogue_(catalogue), tool_(std::move(tool)) {}

  void give(const TDF_Label& product, const std::string& key) {
    if (catalogue_ == nullptr) return;
    const auto material = catalogue_->materials.find(key);
    if (material == catalogue_->materials.end()) return;
    auto [label, fresh] = labels_.try_emplace(key);
    if (fresh) {
      constexpr double g_per_cm3 =
          1e6;  // of one kg/mm3; the kernel's unit, which it writes as kg/m3
      label->second = tool_->AddMaterial(ascii(material->second.title), ascii(key),
                                         material->second.density * g_per_cm3,
                                         ascii("density measure"), ascii("POSITIVE_RATIO_MEASURE"));
    }
    tool_->SetMaterial(product, label->second);
  }

 private:
  const Catalogue* catalogue_;
  Handle(XCAFDoc_MaterialTool) tool_;
  std::map<std::string, TDF_Label> labels_;
};

void fill(const Handle(TDocStd_Document) & document, const detail::ProductTree& tree,
          const Catalogue* catalogue) {
  const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  const Handle(XCAFDoc_ColorTool) colours = XCAFDoc_DocumentTool::ColorTool(document->Main());
  Materials materials(catalogue, XCAFDoc_DocumentTool::MaterialTool(document->Main()));
  shapes->SetAutoNaming(false);

  std::vector<TDF_Label> products;
  std::set<const Solid*> used;
  for (const detail::Product& product : tree.products) {
    // The document knows a shape by its address, so a second product from one solid needs a copy.
    TopoDS_Shape shape = product.solid->kernel().shape;
    if (!used.insert(product.solid).second) shape = BRepBuilderAPI_Copy(shape, true, false).Shape();
    const TDF_Label label = shapes->AddShape(shape, false);
    set_name(label, product.name);
    if (const auto colour = colour_of(product.colour)) {
      colours->SetColor(label, *colour, XCAFDoc_ColorGen);
    }
    materials.give(label, product.material);
    products.push_back(label);
  }

  const TDF_Label root = shapes->NewShape();
  set_name(root, tree.name);
  for (const detail::ModuleNode& module : tree.modules) {
    const TDF_Label assembly = shapes->NewShape();
    set_name(assembly, module.name);
    for (const detail::Instance& instance : module.instances) {
      set_name(shapes->AddComponent(assembly, products[instance.product],
                                    TopLoc_Location(transformation(instance.frame))),
               instance.id);
    }
    set_name(shapes->AddComponent(root, assembly, TopLoc_Location()), module.id);
  }
  shapes->UpdateAssemblies();
}

void set_header(const Handle(StepData_StepModel) & model, const std::string& path,
                const std::string& author, const std::string& date) {
  APIHeaderSection_MakeHeader header(model);
  header.SetName(ascii(path));
  header.SetDescriptionValue(1, ascii("solid model, millimetres"));
  header.SetTimeStamp(
      ascii(date.size() == 10 ? date + "T00:00:00" : date));  // Part 21 wants a time
  header.SetAuthorValue(1, ascii(author));
  header.SetOrganizationValue(1, ascii(""));
  header.SetOriginatingSystem(ascii("ribbay"));
  header.SetAuthorisation(ascii(""));
}

/// The kernel writes the unit of density as g^3 cm^2; g cm^-3 is meant.
void mend_density_unit(const Handle(StepData_StepModel) & model) {
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto element = Handle(StepBasic_DerivedUnitElement)::DownCast(model->Value(i));
    if (element.IsNull()) continue;
    const bool mass = element->Unit()->IsKind(STANDARD_TYPE(StepBasic_SiUnitAndMassUnit));
    element->SetExponent(mass ? 1 : -3);
  }
}

std::string text_of(const Handle(TDocStd_Document) & document, const std::string& path,
                    const std::string& author, const std::string& date) {
  STEPCAFControl_Writer writer;
  writer.SetColorMode(true);
  writer.SetNameMode(true);
  writer.SetMaterialMode(true);
  writer.SetLayerMode(false);
  if (!writer.Transfer(document, STEPControl_AsIs)) throw Standard_Failure("nothing to write");
  const Handle(StepData_StepModel) model = writer.ChangeWriter().Model();
  mend_density_unit(model);
  set_header(model, path, author, date);
  StepData_StepWriter text(model);
  text.SendModel(Handle(StepData_Protocol)::DownCast(writer.ChangeWriter().WS()->Protocol()));
  std::ostringstream out;
  if (!text.Print(out)) throw Standard_Failure("the file could not be printed");
  return out.str();
}

/// Settings of the kernel that hold for the whole process.
void prepare_kernel() {
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
  STEPControl_Controller::Init();  // it resets the schema
  Interface_Static::SetCVal("write.step.schema", "AP242DIS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  Interface_Static::SetIVal("write.step.assembly", 1);
  Interface_Static::SetIVal("write.surfacecurve.mode",
                            0);  // curves in the faces: readers find them
}

std::mutex one_writer_at_a_time;

}  // namespace

Result<OutputFile> step_assembly(const Layout& layout, const SolidSet& solids,
                                 const std::string& path, const StepOptions& options) {
  const std::lock_guard lock(one_writer_at_a_time);
  return guarded("step.not_written", path, [&]() -> Result<OutputFile> {
    prepare_kernel();
    const detail::ProductTree tree = detail::product_tree(layout, solids, options);
    if (tree.products.empty()) throw Standard_Failure("there is no part to write");
    const KernelDocument document;
    fill(document.get(), tree, layout.catalogue.get());
    std::string bytes =
        detail::canonical_step(text_of(document.get(), path, layout.project.author, options.date));
    if (bytes.empty()) throw Standard_Failure("the kernel's text is not a STEP file");
    return OutputFile{path, std::move(bytes),
                      options.module.empty() ? "solid model of everything, STEP AP242"
                                             : "solid model of " + options.module + ", STEP AP242"};
  });
}

Built<OutputFiles> step_files(const Layout& layout, const SolidSet& solids,
                              const std::string& date) {
  Built<OutputFiles> built;
  const auto add = [&](const std::string& path, const StepOptions& options) {
    Result<OutputFile> file = step_assembly(layout, solids, path, options);
    if (file) {
      built.value.push_back(*std::move(file));
    } else {
      built.findings.insert(built.findings.end(), file.error().begin(), file.error().end());
    }
  };
  add("model/assembly.step", {.date = date});
  std::set<std::string> modules;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (solids.of(i) != nullptr) modules.insert(layout.parts[i].module);
  }
  for (const std::string& module : modules) {
    const std::string file = module == "assembly" ? "assembly_module" : module;
    add("model/" + file + ".step", {.date = date, .module = module});
  }
  return built;
}

}  // namespace ribbay
