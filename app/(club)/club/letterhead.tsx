/** What stands at the head of each write-up, and how the club charges. */
import { letterheadAction } from '@/app/actions/letterhead';
import { photoTrouble } from '@/app/photo-form';
import { typedMoney } from '@/lib/core/money';
import { pictureUrl } from '@/lib/files/limits';
import { getLetterhead } from '@/lib/store/letterhead';
import { ActionForm } from '@/lib/ui/forms';
import { Widget } from '@/lib/ui/shell';

export async function LetterheadForm({ trouble }: { trouble: string }) {
  const { name, address, logo, currency, rate } = await getLetterhead();
  return (
    <Widget title="Letterhead" id="letterhead">
      <p className="soft">
        Stands at the head of every write-up for a customer. Write-ups that were sent keep the one they were sent with.
      </p>
      <ActionForm
        action={letterheadAction}
        submit="Keep the letterhead"
        fields={[
          { name: 'name', label: 'Name of the club or business', value: name, required: true },
          {
            name: 'address',
            label: 'Address',
            type: 'area',
            value: address.join('\n'),
            hint: 'A line for each; telephone or e-mail too if you like.',
          },
          { name: 'currency', label: 'Currency', value: currency, hint: 'Three letters, such as GBP.', required: true },
          {
            name: 'rate',
            label: 'For an hour’s work',
            value: rate === null ? '' : typedMoney(rate, currency),
            hint: 'Such as 30.00. Empty: time is shown but not charged.',
          },
        ]}
      />
      <h3 className="logo-head">Logo</h3>
      {photoTrouble(trouble) && (
        <p className="form-message" role="alert">
          {photoTrouble(trouble)}
        </p>
      )}
      {logo && (
        // biome-ignore lint/performance/noImgElement: the sizes are made once, by our own server
        <img className="logo-shown" src={pictureUrl(logo.picture, 320)} width={logo.width} height={logo.height} alt={`Logo of ${name}`} />
      )}
      <form className="form quiet" method="post" encType="multipart/form-data" action="/club/logo">
        <p className="form-field">
          <label htmlFor="logo">{logo ? 'Another logo in its place' : 'Choose a picture'}</label>
          <input id="logo" name="photo" type="file" accept="image/*" />
        </p>
        <div className="actions">
          <button type="submit" className="btn">
            Keep the logo
          </button>
          {logo && (
            <button type="submit" className="btn text" name="remove" value="yes">
              Take the logo away
            </button>
          )}
        </div>
      </form>
    </Widget>
  );
}
