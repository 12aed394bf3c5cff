#include "ui/panels/next_step.h"

#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace yw::ui {

NextStep::NextStep(Document& document, QWidget* parent) : QFrame(parent), document_(document) {
  setObjectName(QStringLiteral("nextStep"));
  setAccessibleName(tr("What to do next"));
  setFrameShape(QFrame::StyledPanel);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(8, 6, 8, 6);
  text_ = new QLabel(this);
  text_->setObjectName(QStringLiteral("nextStepText"));
  text_->setWordWrap(true);
  button_ = new QPushButton(this);
  button_->setObjectName(QStringLiteral("nextStepButton"));
  column->addWidget(text_);
  column->addWidget(button_, 0, Qt::AlignLeft);
  connect(button_, &QPushButton::clicked, this, [this] { Q_EMIT asked(step_); });
  connect(&document_, &Document::assessed, this, &NextStep::refresh);
  connect(&document_, &Document::yardChanged, this, &NextStep::refresh);
  connect(&document_, &Document::fileChanged, this, &NextStep::refresh);
  refresh();
}

NextStep::Step NextStep::due() const {
  const yard::Yard& yard = document_.yard();
  if (document_.report()->failing) return Step::None;
  if (yard::all<yard::Prop>(yard).empty())
    return yard::all<yard::GroundFeature>(yard).empty() && yard::site(yard).photo.empty() ? Step::None
                                                                                          : Step::PlaceProps;
  if (!document_.report()->notWired.empty())
    return yard::all<yard::Outlet>(yard).empty() ? Step::PlaceOutlet : Step::Propose;
  if (document_.filePath().isEmpty()) return Step::Save;
  return yard::all<yard::IssuedSheet>(yard).empty() ? Step::Print : Step::None;
}

void NextStep::refresh() {
  step_ = due();
  setVisible(step_ != Step::None);
  const auto show = [this](const QString& text, const QString& button) {
    text_->setText(text);
    button_->setText(button);
  };
  switch (step_) {
    case Step::None:
      break;
    case Step::PlaceProps:
      return show(tr("Next: place your props where they will stand."), tr("Choose a prop…"));
    case Step::PlaceOutlet:
      return show(tr("Next: place the outlet that the power comes from. More can follow."),
                  tr("Place an outlet"));
    case Step::Propose:
      return show(tr("Next: have controllers, supplies, ports and feeds proposed for what is not wired yet, "
                     "or pull the runs yourself."),
                  tr("Proposals…"));
    case Step::Save:
      return show(tr("Next: save this yard under a name."), tr("Save…"));
    case Step::Print:
      return show(tr("Next: print the sheets to build and wire it by."), tr("Print or save sheets…"));
  }
}

}  // namespace yw::ui
