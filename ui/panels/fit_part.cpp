#include "ui/panels/fit_part.h"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "core/yard/labels.h"
#include "ui/fields/pick_fields.h"
#include "ui/fields/small_widgets.h"
#include "ui/panels/edits.h"

namespace yw::ui {

FitPart::FitPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  open_ = new QPushButton(tr("Fit it to what I have…"), this);
  open_->setObjectName(QStringLiteral("fit_open"));
  open_->setCheckable(true);
  open_->setMinimumHeight(26);
  column->addWidget(open_, 0, Qt::AlignLeft);
  body_ = new QWidget(this);
  body_->hide();
  column->addWidget(body_);
  build();
  connect(open_, &QPushButton::toggled, this, [this](bool on) {
    body_->setVisible(on);
    if (on) offerWhatThereIs();  // only now: what a large prop can fit takes a while to try
    refresh();
  });
}

TypedField* FitPart::addField(const char* name, const QString& label, bool length, std::int64_t& value) {
  yard::FieldInfo info{};
  info.name = name;
  info.label = label.toStdString();
  info.type = length ? yard::FieldType::Length : yard::FieldType::Count;
  info.least = 1;
  info.most = length ? base::feet(1'000).count : shapes::kMostPixels;
  auto* field = new TypedField(info, {}, body_);
  field->setNames(QString::fromUtf8(name), label);
  field->setCommitter([this, field, &value, most = info.most](const FieldEdit& edit, const std::string&) {
    const auto typed = std::get<std::int64_t>(edit(value));
    if (typed < 1) return messageText({"fit_nothing_to_fit", {}}, yard());
    if (typed > most)
      return messageText({"fit_number_too_large", {{"typed", field->edit()->text().toStdString()}}}, yard());
    value = typed;
    refresh();
    return QString();
  });
  body_->layout()->addWidget(field);
  return field;
}

void FitPart::build() {
  auto* column = new QVBoxLayout(body_);
  column->setContentsMargins(12, 0, 0, 4);
  what_ = new QComboBox(body_);
  what_->setObjectName(QStringLiteral("fit_what"));
  what_->setAccessibleName(tr("What it is to fit"));
  what_->setMinimumHeight(26);
  column->addWidget(what_);
  pixels_ = addField("fit_pixels", tr("Pixels I have"), false, pixelsHave_);
  room_ = addField("fit_room", tr("Room there is"), true, roomHave_);
  strips_ = addField("fit_strips", tr("Strips I own"), false, stripsHave_);
  each_ = addField("fit_each", tr("Pixels on each strip"), false, eachHave_);
  port_ = new QComboBox(body_);
  port_->setObjectName(QStringLiteral("fit_port"));
  port_->setAccessibleName(tr("Port"));
  port_->setMinimumHeight(26);
  column->addWidget(port_);
  answers_ = new QWidget(body_);
  proposals_ = new QVBoxLayout(answers_);
  proposals_->setContentsMargins(0, 0, 0, 0);
  column->addWidget(answers_);
  connect(what_, &QComboBox::activated, this, [this] { refresh(); });
  connect(port_, &QComboBox::activated, this, [this] { refresh(); });
}

void FitPart::offerWhatThereIs() {
  if (what_->count() > 0) return;
  const auto offer = [this](const QString& words, Have have) {
    what_->addItem(words, static_cast<int>(have));
  };
  offer(tr("I have so many pixels"), Have::Pixels);
  offer(tr("It may be so wide"), Have::Width);
  offer(tr("It may be so high"), Have::Height);
  offer(tr("Fill what a port still takes"), Have::Port);
  const auto* prop = yard::find<yard::Prop>(yard(), id());
  if (prop && shapes::fittingSize(*prop, "strips")) offer(tr("I own strips"), Have::Strips);
  if (prop && !shapes::fittingSizes(*prop, shapes::Measure::Strip).empty())
    offer(tr("My strips are so long"), Have::StripLength);
  if (prop && !shapes::fittingSizes(*prop, shapes::Measure::Depth).empty())
    offer(tr("It may be so deep"), Have::Depth);
}

FitPart::Have FitPart::have() const { return static_cast<Have>(what_->currentData().toInt()); }

shapes::Measure FitPart::measure() const {
  switch (have()) {
    case Have::Width:
      return shapes::Measure::Width;
    case Have::Height:
      return shapes::Measure::Height;
    case Have::Depth:
      return shapes::Measure::Depth;
    case Have::StripLength:
      return shapes::Measure::Strip;
    case Have::Pixels:
    case Have::Port:
    case Have::Strips:
      break;
  }
  return shapes::Measure::Pixels;
}

void FitPart::showFields() {
  pixels_->setVisible(have() == Have::Pixels);
  room_->setVisible(room());
  strips_->setVisible(have() == Have::Strips);
  each_->setVisible(have() == Have::Strips);
  port_->setVisible(have() == Have::Port);
  pixels_->display({pixelsHave_}, units());
  room_->display({roomHave_}, units());
  strips_->display({stripsHave_}, units());
  each_->display({eachHave_}, units());
  const QVariant chosen = port_->currentData();
  port_->clear();
  for (const auto& [portId, name] : namedRecords(yard(), {yard::RecordKind::Port})) {
    const auto room = shapes::roomOnPort(yard(), portId);
    if (room)
      port_->addItem(tr("%1, takes %2").arg(name).arg(*room), QVariant::fromValue<qlonglong>(portId.value));
  }
  if (port_->count() == 0) port_->addItem(tr("No port in this yard: add a controller"), QVariant());
  port_->setCurrentIndex(std::max(0, port_->findData(chosen)));
}

void FitPart::refresh() {
  const auto* prop = yard::find<yard::Prop>(yard(), id());
  if (!prop || !open_->isChecked()) return;
  if (const auto shape = shapes::make(*prop); shape && pixelsHave_ == 0) {
    pixelsHave_ = static_cast<std::int64_t>(shape->pixels.size());
    roomHave_ = shape->width.count;
    const auto* strips = shapes::fittingSize(*prop, "strips");
    const auto stored = prop->sizes.find("strips");
    stripsHave_ = !strips ? 1 : stored == prop->sizes.end() ? strips->usual : stored->second;
    eachHave_ = std::max<std::int64_t>(1, pixelsHave_ / std::max<std::int64_t>(1, stripsHave_));
  }
  showFields();
  propose();
}

base::Result<shapes::FitRequest> FitPart::request(const yard::Prop& prop) const {
  shapes::FitRequest wanted{prop, measure(), room() ? roomHave_ : pixelsHave_, {}, units()};
  if (have() == Have::Port) {
    const auto room = shapes::roomOnPort(yard(), base::Id{port_->currentData().toLongLong()});
    if (!room) return tl::unexpected(room.error());
    wanted.limit = *room;
  }
  if (have() == Have::Strips) {
    wanted.prop.sizes["strips"] = stripsHave_;
    wanted.limit = stripsHave_ * eachHave_;
  }
  return wanted;
}

void FitPart::propose() {
  const auto* prop = yard::find<yard::Prop>(yard(), id());
  std::string key = std::to_string(what_->currentIndex()) + " " + std::to_string(pixelsHave_) + " " +
                    std::to_string(roomHave_) + " " + std::to_string(stripsHave_) + " " +
                    std::to_string(eachHave_) + " " + port_->currentText().toStdString() +
                    (units() == base::UnitSystem::Metric ? "m" : "f");
  const auto join = [&key](const std::string& what, const std::string& value) {
    key.append(1, ' ').append(what).append(1, '=').append(value);
  };
  for (const auto& [name, value] : prop->sizes) join(name, std::to_string(value));
  for (const auto& [name, option] : prop->choices) join(name, option);
  for (const yard::Point& p : prop->path) join(std::to_string(p.x.count), std::to_string(p.y.count));
  for (const yard::OwnLine& line : prop->lines)
    for (const yard::Point& p : line.points) join(std::to_string(p.x.count), std::to_string(p.y.count));
  if (key == shownFor_) return;
  shownFor_ = key;
  for (QWidget* old : answers_->findChildren<QWidget*>(QString(), Qt::FindDirectChildrenOnly)) {
    old->hide();
    old->setObjectName({});
    old->deleteLater();  // one of them may be what is just pressed
  }
  const auto wanted = request(*prop);
  base::Result<shapes::Fit> first = tl::unexpected(wanted ? base::Error{} : wanted.error());
  bool any = false;
  if (wanted) {
    first = shapes::fit(*wanted);
    for (const std::string& size : shapes::fittingSizes(wanted->prop, wanted->measure)) {
      if (have() == Have::Strips && size == "strips") continue;  // they are what there is
      shapes::FitRequest one = *wanted;
      one.size = size;
      if (const auto fit = shapes::fit(one)) {
        addProposal(*fit);
        any = true;
      }
    }
  }
  if (any) return;
  auto* why = new QLabel(first ? QString() : errorText(first.error(), yard()), answers_);
  why->setObjectName(QStringLiteral("fit_why"));
  why->setProperty("ink", QStringLiteral("danger"));
  why->setWordWrap(true);
  proposals_->addWidget(why);
  why->show();
}

void FitPart::addProposal(const shapes::Fit& fit) {
  const auto* prop = yard::find<yard::Prop>(yard(), id());
  const bool asIs =
      prop->sizes == fit.prop.sizes && prop->path == fit.prop.path && prop->lines == fit.prop.lines;
  auto* button = new SentenceButton(messageText(shapes::answerOf(fit, measure()), yard()), answers_);
  button->setObjectName(QStringLiteral("fit_take_") + QString::fromStdString(fit.size));
  const auto shape = shapes::make(fit.prop);
  const auto wrong = shape ? shapes::unbuildable(*shape) : std::nullopt;
  button->setEnabled(!asIs && !wrong);
  connect(button, &QPushButton::clicked, this, [this, fit] { take(fit); });
  proposals_->addWidget(button);
  button->show();
  QString more;
  if (asIs) more = tr("That is how it is now. ");
  if (wrong) more += errorText(*wrong, yard()) + QLatin1Char(' ');
  more += messageText(shapes::nextStepOf(fit, measure()), yard());
  auto* next = new QLabel(more, answers_);
  next->setProperty("ink", QStringLiteral("second"));
  next->setWordWrap(true);
  proposals_->addWidget(next);
  next->show();
}

void FitPart::take(const shapes::Fit& fit) {
  document().clearTentative();
  editRecords(document(), ids(), tr("Fit %1 to what there is").arg(nameOf(document().yard(), ids())),
              [&](const yard::Record& record) -> base::Result<yard::Record> {
                yard::Prop prop = std::get<yard::Prop>(record);
                prop.sizes = fit.prop.sizes;
                if (fit.size != shapes::kWholeSize) return yard::Record(std::move(prop));
                prop.path = fit.prop.path;
                prop.lines = fit.prop.lines;
                return yard::Record(std::move(prop));
              });
}

}  // namespace yw::ui
