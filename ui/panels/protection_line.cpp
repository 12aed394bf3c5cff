#include "ui/panels/protection_line.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

base::Current fittedAt(const yard::Yard& yard, base::Id position) {
  if (const auto* port = yard::find<yard::Port>(yard, position)) return port->fuse;
  if (const auto* fuse = yard::find<yard::FusePosition>(yard, position)) return fuse->fuse;
  return {};
}

}  // namespace

base::Id wireOfGauge(const yard::Yard& yard, int gauge, const yard::Wire& like) {
  base::Id best;
  std::int64_t nearest = -1;
  for (const auto& [id, wire] : yard::all<yard::Wire>(yard)) {
    const bool fits = wire->conductors == like.conductors && wire->material == yard::Material::Copper &&
                      wire->gauge <= gauge;
    if (!fits || wire->gauge <= nearest) continue;
    nearest = wire->gauge;
    best = id;
  }
  return best;
}

ProtectionLine::ProtectionLine(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 2, 0, 2);
  words_ = new QLabel(this);
  words_->setObjectName(QStringLiteral("usual_words"));
  words_->setWordWrap(true);
  words_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  column->addWidget(words_);
  auto* buttons = new QHBoxLayout;
  fuseButton_ = new QPushButton(this);
  fuseButton_->setObjectName(QStringLiteral("usual_fuse"));
  wireButton_ = new QPushButton(this);
  wireButton_->setObjectName(QStringLiteral("usual_wire"));
  buttons->addWidget(fuseButton_);
  buttons->addWidget(wireButton_);
  buttons->addStretch(1);
  column->addLayout(buttons);
  connect(fuseButton_, &QPushButton::clicked, this, &ProtectionLine::fitFuse);
  connect(wireButton_, &QPushButton::clicked, this, &ProtectionLine::takeWire);
  hide();
}

void ProtectionLine::showPosition(base::Id position) {
  position_ = position;
  const auto assessment = document_.assessment();
  const auto found = position && assessment
                         ? circuit::protectionOf(assessment->yard, assessment->routes, assessment->layouts,
                                                 assessment->limit, assessment->fullWhite, position)
                         : std::nullopt;
  setVisible(found.has_value());
  if (!found) return;
  words_->setText(
      QStringLiteral("%1: %2").arg(labelText(document_.shownYard(), position),
                                   messageText(circuit::usualText(*found), document_.shownYard())));
  offerFuse(*found);
  offerWire(*found);
}

void ProtectionLine::offerFuse(const circuit::Protection& protection) {
  // Any fuse from the smallest that lasts to what the limit permits is right as it is.
  const base::Current fitted = fittedAt(document_.shownYard(), position_);
  const bool right =
      fitted >= protection.choice.fuse &&
      (protection.choice.limit.amps <= 0.0 || fitted <= base::toCurrent({protection.choice.limit.amps}));
  fuse_ = protection.choice.fits ? protection.choice.fuse : base::Current{};
  fuseButton_->setVisible(fuse_.count > 0 && !right);
  fuseButton_->setText(tr("Fit a %1 fuse").arg(factText(fuse_, document_.shownYard())));
}

void ProtectionLine::offerWire(const circuit::Protection& protection) {
  const yard::Yard& yard = document_.shownYard();
  cable_ = yard::find<yard::Cable>(yard, protection.cable) != nullptr ? protection.cable : base::Id{};
  wire_ = {};
  const auto* now = yard::find<yard::Wire>(yard, protection.wire);
  if (cable_ && now != nullptr && protection.wireChoice.gauge)
    wire_ = wireOfGauge(yard, *protection.wireChoice.gauge, *now);
  const bool thin =
      now != nullptr && protection.wireChoice.gauge && now->gauge > *protection.wireChoice.gauge;
  wireButton_->setVisible(wire_ && thin);
  if (const auto* wire = yard::find<yard::Wire>(yard, wire_))
    wireButton_->setText(tr("Take %1").arg(QString::fromStdString(wire->name)));
}

void ProtectionLine::fitFuse() {
  edit::Editor editor(document_.yard());
  const base::Current fuse = fuse_;
  editor.update<yard::Port>(position_, [fuse](yard::Port& r) { r.fuse = fuse; });
  editor.update<yard::FusePosition>(position_, [fuse](yard::FusePosition& r) { r.fuse = fuse; });
  const QString step =
      tr("Fit a %1 fuse at %2").arg(factText(fuse, document_.yard()), labelText(document_.yard(), position_));
  document_.commit(editor.finish(step.toStdString()));
}

void ProtectionLine::takeWire() {
  edit::Editor editor(document_.yard());
  const base::Id wire = wire_;
  editor.update<yard::Cable>(cable_, [wire](yard::Cable& r) { r.wire = wire; });
  const QString step =
      tr("Take %1 for %2").arg(labelText(document_.yard(), wire), labelText(document_.yard(), cable_));
  document_.commit(editor.finish(step.toStdString()));
}

}  // namespace yw::ui
