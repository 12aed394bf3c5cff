#include "ui/panels/small_parts.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "core/edit/usual.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/cord_part.h"
#include "ui/panels/edits.h"
#include "ui/panels/protection_line.h"
#include "ui/panels/rows_part.h"

namespace yw::ui {

namespace {

using yard::RecordKind;
using yard::TerminalKind;

/// The end of that kind, or null.
template <class C>
auto endOf(C& cable, TerminalKind kind) -> decltype(&cable.from) {
  if (cable.from.kind == kind) return &cable.from;
  if (cable.to.kind == kind) return &cable.to;
  return nullptr;
}

/// What can be put into a record of that kind.
std::vector<RecordKind> addable(RecordKind kind) {
  switch (kind) {
    case RecordKind::Box:
      return {RecordKind::Supply, RecordKind::Controller, RecordKind::Receiver};
    case RecordKind::HouseCircuit:
      return {RecordKind::Outlet, RecordKind::OtherLoad};
    case RecordKind::Controller:
      return {RecordKind::Receiver};
    default:
      return {};
  }
}

void putInto(edit::Editor& editor, base::Id made, base::Id owner) {
  editor.update<yard::Supply>(made, [&](yard::Supply& r) { r.box = owner; });
  editor.update<yard::Controller>(made, [&](yard::Controller& r) { r.box = owner; });
  editor.update<yard::Outlet>(made, [&](yard::Outlet& r) { r.circuit = owner; });
  editor.update<yard::OtherLoad>(made, [&](yard::OtherLoad& r) { r.circuit = owner; });
  const bool inBox = yard::find<yard::Box>(editor.yard(), owner) != nullptr;
  editor.update<yard::Receiver>(made, [&](yard::Receiver& r) { (inBox ? r.box : r.controller) = owner; });
  if (!inBox) return;
  base::Id supply;  // its ports take their power in the same box
  for (const auto& [id, record] : yard::all<yard::Supply>(editor.yard()))
    if (!supply && record->box == owner) supply = id;
  const auto power = [&](std::vector<yard::PowerSection>& sections) {
    if (sections.empty()) sections.emplace_back();
    for (yard::PowerSection& section : sections) section.supply = supply;
  };
  editor.update<yard::Controller>(made, [&](yard::Controller& r) { power(r.sections); });
  editor.update<yard::Receiver>(made, [&](yard::Receiver& r) { power(r.sections); });
}

}  // namespace

std::vector<base::Id> related(const yard::Yard& yard, base::Id id) {
  std::vector<base::Id> found;
  const auto self = yard.records.find(id);
  if (self == yard.records.end()) return found;
  const RecordKind own = yard::kindOf(*self->second);
  if (own == RecordKind::Settings || own == RecordKind::Site || own == RecordKind::Wire ||
      own == RecordKind::Product)
    return found;
  const auto skip = [](RecordKind kind) {
    return kind == RecordKind::Port || kind == RecordKind::FusePosition || kind == RecordKind::KeepAsIs ||
           kind == RecordKind::LeftAsIs || kind == RecordKind::IssuedSheet || kind == RecordKind::Settings ||
           kind == RecordKind::PropArray;
  };
  for (const base::Id named : yard::references(*self->second)) {
    const auto it = yard.records.find(named);
    if (it == yard.records.end() || named == id) continue;
    base::Id shown = named;  // a port or fuse position is found on its owner's form
    if (const auto* port = std::get_if<yard::Port>(it->second.get())) shown = port->owner;
    if (const auto* fuse = std::get_if<yard::FusePosition>(it->second.get())) shown = fuse->supply;
    const auto kind =
        yard.records.contains(shown) ? yard::kindOf(*yard.records.at(shown)) : RecordKind::Settings;
    if (!skip(kind) && kind != RecordKind::Wire && kind != RecordKind::Product) found.push_back(shown);
  }
  for (const auto& [other, record] : yard.records) {
    if (other == id || skip(yard::kindOf(*record))) continue;
    const auto names = yard::references(*record);
    bool uses = std::find(names.begin(), names.end(), id) != names.end();
    for (const base::Id named : names) {
      const auto it = yard.records.find(named);
      if (it == yard.records.end()) continue;
      if (const auto* port = std::get_if<yard::Port>(it->second.get())) uses |= port->owner == id;
      if (const auto* fuse = std::get_if<yard::FusePosition>(it->second.get())) uses |= fuse->supply == id;
    }
    if (uses) found.push_back(other);
  }
  std::vector<base::Id> once;
  for (const base::Id one : found)
    if (std::find(once.begin(), once.end(), one) == once.end()) once.push_back(one);
  return once;
}

CableEndsPart::CableEndsPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  auto* form = new QFormLayout(this);
  form->setContentsMargins(0, 0, 0, 0);
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  words_ = new QLabel(this);
  words_->setWordWrap(true);
  form->addRow(words_);
  usual_ = new ProtectionLine(document, this);
  form->addRow(usual_);
  const auto* cable = yard::find<yard::Cable>(yard(), id());
  if (cable && cable->conductors == yard::ConductorSet::Mains) addPieces(form);
  if (!cable || !endOf(*cable, TerminalKind::FusePosition) || !endOf(*cable, TerminalKind::PropPixel)) {
    refresh();
    return;
  }
  const auto change = [this](const QString& label, TerminalKind kind, auto set) {
    editRecord<yard::Cable>(this->document(), id(),
                            tr("Change %1 of %2").arg(label, nameOf(yard(), this->ids())),
                            [&](yard::Cable& c) {
                              if (auto* end = endOf(c, kind)) set(*end);
                            });
    return QString();
  };
  fuse_ = new ReferenceField(document, {RecordKind::FusePosition}, this);
  fuse_->setNames(QStringLiteral("fuse_position"), tr("Fuse position"));
  fuse_->setCommitter([=](const FieldEdit& edit, const std::string&) {
    return change(tr("fuse position"), TerminalKind::FusePosition, [&](yard::Terminal& end) {
      end.record = {std::get<std::int64_t>(edit(end.record.value))};
    });
  });
  prop_ = new ReferenceField(document, {RecordKind::Prop}, this);
  prop_->setNames(QStringLiteral("feed_prop"), tr("Prop"));
  prop_->setCommitter([=](const FieldEdit& edit, const std::string&) {
    return change(tr("prop"), TerminalKind::PropPixel, [&](yard::Terminal& end) {
      end.record = {std::get<std::int64_t>(edit(end.record.value))};
      end.pixel = 1;
    });
  });
  pixel_ = new TypedField(columnInfo("pixel", tr("Pixel"), yard::FieldType::Count, 1), {}, this);
  pixel_->setNames(QStringLiteral("feed_pixel"), tr("Pixel"));
  pixel_->setCommitter([=, this](const FieldEdit& edit, const std::string&) -> QString {
    const auto* now = yard::find<yard::Cable>(yard(), id());
    const auto* end = now ? endOf(*now, TerminalKind::PropPixel) : nullptr;
    if (!end) return {};
    const std::int64_t pixel = std::get<std::int64_t>(edit(end->pixel));
    const auto shape = this->document().assessment()->shapes.find(end->record);
    const auto most = shape == this->document().assessment()->shapes.end()
                          ? std::int64_t{0}
                          : static_cast<std::int64_t>(shape->second->pixels.size());
    if (pixel < 1 || pixel > most)
      return messageText({"field_pixel", {{"pixel", pixel}, {"most", most}}}, yard());
    return change(tr("pixel"), TerminalKind::PropPixel, [&](yard::Terminal& to) { to.pixel = pixel; });
  });
  form->addRow(tr("Fuse position"), fuse_);
  form->addRow(tr("Prop"), prop_);
  form->addRow(tr("Pixel"), pixel_);
  refresh();
}

void CableEndsPart::refresh() {
  const auto* cable = yard::find<yard::Cable>(yard(), id());
  if (!cable) return;
  const auto assessment = document().assessment();
  QStringList words;
  for (const auto& [key, routed] : assessment->routes.cables) {
    if (routed.record != id()) continue;
    words << tr("From %1 to %2")
                 .arg(QString::fromStdString(routed.fromText), QString::fromStdString(routed.toText));
    words << tr("Cut length %1").arg(factText(routed.cutLength, yard()));
    if (const QString cord = cordText(document(), key); !cord.isEmpty()) words << cord;
    const auto figure = assessment->limit.feeds.find(id());
    const auto white = assessment->fullWhite.feeds.find(id());
    if (figure != assessment->limit.feeds.end() && white != assessment->fullWhite.feeds.end())
      words << tr("%1 at the brightness limit, %2 at full white")
                   .arg(factText(base::toCurrent({figure->second.amps}), yard()),
                        factText(base::toCurrent({white->second.amps}), yard()));
  }
  words_->setText(words.join(u'\n'));
  words_->setVisible(!words.isEmpty());
  showUsual(*cable);
  if (pieces_) pieces_->display({cable->pieces}, units());
  if (!pixel_) return;
  const auto* fuse = endOf(*cable, TerminalKind::FusePosition);
  const auto* pixel = endOf(*cable, TerminalKind::PropPixel);
  if (fuse) fuse_->display({fuse->record.value}, units());
  if (pixel) prop_->display({pixel->record.value}, units());
  if (pixel) pixel_->display({pixel->pixel}, units());
}

void CableEndsPart::addPieces(QFormLayout* form) {
  const auto info = fieldNamed(yard::fieldsOf(RecordKind::Cable), "pieces");
  pieces_ = new TypedField(info, {}, this);
  pieces_->setNames(QStringLiteral("pieces"), QString::fromStdString(info.label));
  pieces_->setCommitter([this](const FieldEdit& edit, const std::string& key) {
    const QString step = tr("Change cords end to end of %1").arg(nameOf(yard(), ids()));
    return editRecords(
        this->document(), {id()}, step,
        [&edit](const yard::Record& record) {
          return yard::withValue(record, "pieces", edit(*yard::valueOf(record, "pieces")));
        },
        key);
  });
  form->addRow(QString::fromStdString(info.label), pieces_);
}

/// Of the fuse position the cable starts at, or of the port of the run whose lead it is.
void CableEndsPart::showUsual(const yard::Cable& cable) {
  base::Id position;
  for (const TerminalKind kind : {TerminalKind::FusePosition, TerminalKind::Port})
    if (const auto* end = endOf(cable, kind); end && !position) position = end->record;
  if (!position)
    for (const auto& [key, routed] : document().assessment()->routes.cables)
      if (routed.record == id() && key.role == routes::CableRole::Lead) position = routed.from.record;
  usual_->showPosition(position);
}

LinksPart::LinksPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  column_ = new QVBoxLayout(this);
  column_->setContentsMargins(0, 0, 0, 0);
  column_->setSpacing(2);
  const auto self = yard().records.find(id());
  if (self != yard().records.end()) {
    for (const RecordKind kind : addable(yard::kindOf(*self->second))) {
      const QString word = QString::fromUtf8(yard::label(kind)).toLower();
      auto* add = new QPushButton(tr("Add a %1 here").arg(word), this);
      if (QStringLiteral("aeiou").contains(word[0])) add->setText(tr("Add an %1 here").arg(word));
      add->setObjectName(QStringLiteral("add_%1").arg(word).replace(u' ', u'_'));
      column_->addWidget(add);
      connect(add, &QPushButton::clicked, this, [this, kind] {
        edit::Editor editor(this->document().yard());
        const base::Id made = edit::addUsual(editor, kind);
        putInto(editor, made, id());
        const QString step = tr("Add %1").arg(labelText(editor.yard(), made));
        this->document().commit(editor.finish(step.toStdString()));
        Q_EMIT openAsked(made);
      });
    }
  }
  refresh();
}

void LinksPart::refresh() {
  const auto ids = related(yard(), id());
  std::string key;
  for (const base::Id one : ids)
    key += yard::label(yard::kindOf(*yard().records.at(one))) + labelText(yard(), one).toStdString() + "\n";
  if (key == shownFor_) return;
  shownFor_ = key;
  for (auto* old : findChildren<QPushButton*>(QStringLiteral("link"))) {
    old->setObjectName({});
    old->hide();
    old->deleteLater();
  }
  int place = 0;
  for (const base::Id one : ids) {
    const QString kind = QString::fromUtf8(yard::label(yard::kindOf(*yard().records.at(one))));
    auto* link = new QPushButton(QStringLiteral("%1: %2").arg(kind, labelText(yard(), one)), this);
    link->setObjectName(QStringLiteral("link"));
    link->setProperty("look", QStringLiteral("link"));
    link->setFlat(true);
    column_->insertWidget(place++, link);
    connect(link, &QPushButton::clicked, this, [this, one] { Q_EMIT openAsked(one); });
  }
}

KeepPart::KeepPart(Document& document, std::set<base::Id> ids, const QString& what, const QString& words,
                   QWidget* parent)
    : FormPart(document, std::move(ids), parent), what_(what.toStdString()) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  box_ = new QCheckBox(words, this);
  box_->setObjectName(QStringLiteral("keep_") + what);
  box_->setMinimumHeight(24);
  box_->setToolTip(tr("Proposals leave it alone"));
  column->addWidget(box_);
  connect(box_, &QCheckBox::clicked, this, &KeepPart::keep);
  refresh();
}

void KeepPart::refresh() {
  std::size_t kept = 0;
  for (const auto& [mark, keep] : yard::all<yard::KeepAsIs>(yard()))
    if (ids().contains(keep->subject) && keep->what == what_) ++kept;
  box_->setTristate(kept != 0 && kept < ids().size());
  box_->setCheckState(kept == 0 ? Qt::Unchecked : kept < ids().size() ? Qt::PartiallyChecked : Qt::Checked);
}

void KeepPart::keep(bool on) {
  box_->setTristate(false);
  edit::Editor editor(document().yard());
  std::set<base::Id> missing = ids();
  for (const auto& [mark, kept] : yard::all<yard::KeepAsIs>(document().yard())) {
    if (!ids().contains(kept->subject) || kept->what != what_) continue;
    missing.erase(kept->subject);
    if (!on) editor.remove(mark);
  }
  if (on)
    for (const base::Id subject : missing) editor.add(yard::KeepAsIs{subject, what_});
  const QString step = (on ? tr("Keep %1 as is") : tr("Let %1 be changed")).arg(nameOf(yard(), ids()));
  document().commit(editor.finish(step.toStdString()));
}

}  // namespace yw::ui
