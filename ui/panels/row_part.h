#pragma once
#include "ui/panels/form_part.h"

class QCheckBox;
class QLabel;
class QPushButton;

namespace yw::ui {

/// The row a prop belongs to: what is changed on one is changed on all; a member on its own; the row laid out
/// anew; its tops brought level by the spot heights of the yard.
class RowPart : public FormPart {
  Q_OBJECT
 public:
  RowPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 private:
  base::Id row() const;  ///< of all of them; none if they are not of one row
  QString levelWords() const;
  void select();
  void detach(bool on);
  void level();
  QLabel *words_, *levels_;
  QCheckBox* own_;
  QPushButton *layOut_, *select_, *level_;
};

}  // namespace yw::ui
