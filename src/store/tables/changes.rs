//! Changes as a use case decided them, carried out in order.

use crate::bot::state::{Change, Member, Team};
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::SetId;
use crate::store::Tx;
use crate::store::error::StoreError;

impl Tx {
    /// Stores the changes, in order; `catalogue` is the one that their exercises come from. The ids
    /// of the newly filed sets, in order.
    ///
    /// # Errors
    /// [`StoreError`]; the transaction is then of no more use. A set to revise or remove that is
    /// not the member's is a [`StoreError::RowCount`].
    pub async fn apply(
        &mut self,
        team: &Team,
        member: &Member,
        changes: &[Change],
        catalogue: &Catalogue,
    ) -> Result<Vec<SetId>, StoreError> {
        let mut filed = Vec::new();
        if !changes.is_empty() {
            self.touch(team, member);
        }
        for change in changes {
            match change {
                Change::Log(sets) => {
                    filed.extend(self.file(team, member, sets, catalogue).await?);
                }
                Change::Revise(sets) => {
                    for set in sets {
                        self.revise(team, member, set, catalogue).await?;
                    }
                }
                Change::Remove(ids) => {
                    for &id in ids {
                        self.remove(member, id).await?;
                    }
                }
                Change::Judge(judged) => self.judge(member, judged).await?,
                Change::Checkpoints(change) => self.put_checkpoints(member, change).await?,
                Change::Beliefs(beliefs) => {
                    for (exercise, state) in beliefs {
                        self.put_belief(member, exercise, state.as_deref());
                    }
                }
                Change::Member(new) => self.put_member(team, new).await?,
                Change::Settings(settings) => self.put_settings(team, settings).await?,
                Change::Prescribe(member, version) => {
                    self.put_prescribed(team, *member, version).await?;
                    self.touch_id(*member);
                }
                Change::PrescribeExpected(name, version) => {
                    let expected = self.expect_new(team, name).await?;
                    self.put_prescribed(team, expected, version).await?;
                }
                Change::Unexpect(member) => self.unexpect(team, *member).await?,
                Change::Bell(bell) => self.put_bell(team, member, bell.as_ref()),
                Change::Erase(at) => self.erase(team, member, *at).await?,
            }
        }
        Ok(filed)
    }
}
