#pragma once
#include <QFrame>

#include "ui/document/document.h"

class QLabel;
class QPushButton;

namespace yw::ui {

/// What to do next on the way from an empty yard to sheets in the hand, with the button that does it. It is
/// away while something is dangerous or will not work (Needs attention tells what to do then), and once the
/// sheets are out.
class NextStep : public QFrame {
  Q_OBJECT
 public:
  enum class Step { None, PlaceProps, PlaceOutlet, Propose, Save, Print };
  explicit NextStep(Document& document, QWidget* parent = nullptr);
  Step step() const { return step_; }

 Q_SIGNALS:
  void asked(yw::ui::NextStep::Step step);

 private:
  Step due() const;
  void refresh();

  Document& document_;
  Step step_ = Step::None;
  QLabel* text_;
  QPushButton* button_;
};

}  // namespace yw::ui
