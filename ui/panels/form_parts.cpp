#include "core/shapes/shape.h"
#include "ui/panels/cord_part.h"
#include "ui/panels/fit_part.h"
#include "ui/panels/form_part.h"
#include "ui/panels/list_parts.h"
#include "ui/panels/measured_part.h"
#include "ui/panels/own_part.h"
#include "ui/panels/prop_part.h"
#include "ui/panels/row_part.h"
#include "ui/panels/run_part.h"
#include "ui/panels/small_parts.h"

namespace yw::ui {

namespace {

void propParts(Document& document, const std::set<base::Id>& ids, QWidget* parent,
               std::vector<FormPart*>& parts) {
  parts.push_back(new PropPart(document, ids, parent));
  parts.push_back(new RowPart(document, ids, parent));
  if (ids.size() != 1) return;
  parts.push_back(new FitPart(document, ids, parent));
  const auto* prop = yard::find<yard::Prop>(document.shownYard(), *ids.begin());
  const auto* kind = prop ? shapes::findKind(prop->kind) : nullptr;
  if (kind && kind->name == "own") parts.push_back(new OwnPart(document, ids, parent));
  if (kind && kind->alongPath) parts.push_back(new PointsPart(document, ids, FormPart::tr("Path"), parent));
  parts.push_back(new NamedPartsPart(document, ids, parent));
}

}  // namespace

std::vector<FormPart*> partsFor(Document& document, yard::RecordKind kind, const std::set<base::Id>& ids,
                                QWidget* parent) {
  using yard::RecordKind;
  std::vector<FormPart*> parts;
  const bool one = ids.size() == 1;
  const auto tr = [](const char* text) { return FormPart::tr(text); };
  switch (kind) {
    case RecordKind::Prop:
      propParts(document, ids, parent, parts);
      break;
    case RecordKind::Run:
      if (one) parts.push_back(new RunItemsPart(document, ids, parent));
      parts.push_back(new KeepPart(document, ids, QStringLiteral("port"), tr("Keep its port as is"), parent));
      parts.push_back(
          new KeepPart(document, ids, QStringLiteral("address"), tr("Keep its address as is"), parent));
      if (one) parts.push_back(new MeasuredPart(document, ids, parent));
      break;
    case RecordKind::Cable:
      if (one) parts.push_back(new CableEndsPart(document, ids, parent));
      if (one) parts.push_back(new PointsPart(document, ids, tr("Way"), parent));
      parts.push_back(
          new KeepPart(document, ids, QStringLiteral("feed"), tr("Keep this feed as is"), parent));
      break;
    case RecordKind::Controller:
    case RecordKind::Receiver:
      if (one) parts.push_back(new PortsPart(document, ids, parent));
      if (one) parts.push_back(new SectionsPart(document, ids, parent));
      break;
    case RecordKind::Supply:
      if (one) parts.push_back(new FusesPart(document, ids, parent));
      if (one) parts.push_back(new SupplyCordPart(document, ids, parent));
      if (one) parts.push_back(new MeasuredPart(document, ids, parent));
      break;
    case RecordKind::Box:
      if (one) parts.push_back(new BoxCordPart(document, ids, parent));
      parts.push_back(new KeepPart(document, ids, QStringLiteral("box"), tr("Keep its place as is"), parent));
      break;
    case RecordKind::Wall:
      if (one) parts.push_back(new OpeningsPart(document, ids, parent));
      if (one) parts.push_back(new PointsPart(document, ids, tr("Ends"), parent));
      break;
    case RecordKind::GroundFeature:
      if (one) parts.push_back(new PointsPart(document, ids, tr("Corners"), parent));
      break;
    default:
      break;
  }
  if (one) parts.push_back(new LinksPart(document, ids, parent));
  return parts;
}

}  // namespace yw::ui
