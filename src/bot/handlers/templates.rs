//! Plans that a team keeps under names, to be given to members: `/plan template NAME`.

use super::work::Work;
use crate::bot::state::{Change, Template};
use crate::bot::text;
use crate::domain::quantities::calendar::Week;
use crate::message::forms::command::Action;
use crate::message::forms::plan;

/// Plans that a team keeps under names at most.
const MOST_TEMPLATES: usize = 40;

impl Work<'_> {
    /// Carries out `/plan template`.
    pub(crate) fn template(&mut self, name: &str, action: &Action, week: Week) {
        let text = match action {
            Action::Show => {
                self.tell(text::plan::templates(
                    name,
                    &self.view.team.settings.templates,
                ));
                return;
            }
            Action::Drop => {
                let mut settings = self.view.team.settings.clone();
                settings.templates.retain(|kept| kept.name != name);
                let gone = settings != self.view.team.settings;
                if gone {
                    self.changes.push(Change::Settings(settings));
                }
                self.tell(text::plan::template_gone(name, gone));
                return;
            }
            Action::Like(other) => {
                let Some(from) = self.one_member(other) else {
                    return;
                };
                let Some(plan) = self.held_by(&from, week).plan().cloned() else {
                    self.tell(text::plan::has_none(&from.name, "plan"));
                    return;
                };
                plan::print(&plan, self.view.catalogue())
            }
            Action::Write(text) | Action::Change(_, text) => {
                let language = self.language();
                let understood = plan::understand(text, &language);
                let (catalogue, faults) = (self.view.catalogue(), &understood.faults);
                let Ok(plan) = understood.plan() else {
                    self.tell(text::plan::faults(faults, catalogue));
                    return;
                };
                // A template is written again as a whole, so it is kept as a whole.
                if !faults.is_empty() {
                    self.tell(text::plan::faults(faults, catalogue));
                    return;
                }
                plan::print(&plan, catalogue)
            }
        };
        let mut settings = self.view.team.settings.clone();
        settings.templates.retain(|kept| kept.name != name);
        if settings.templates.len() >= MOST_TEMPLATES {
            self.tell(text::plan::TEMPLATES_FULL);
            return;
        }
        let kept = Template {
            name: name.to_owned(),
            text,
        };
        self.tell(text::plan::template_kept(&kept));
        settings.templates.push(kept);
        self.changes.push(Change::Settings(settings));
    }
}
