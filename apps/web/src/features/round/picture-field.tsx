import { useState } from 'react';
import { pictureAddress, shrinkPicture, UNREADABLE } from '../../lib/shrink-picture.js';

/** A photo by the phone's camera or from its album: made smaller and drawn anew, so that neither place nor camera stay in it. */
export function PictureField(props: {
  readonly id: string;
  readonly label: string;
  /** As a `data:` address; empty: none yet. */
  readonly picture: string;
  readonly onFill: (picture: string) => void;
  readonly onFault: (fault: string | null) => void;
}) {
  const { id, picture } = props;
  const [isWorking, setIsWorking] = useState(false);
  const choose = async (picked: File) => {
    setIsWorking(true);
    const file = await shrinkPicture(picked);
    setIsWorking(false);
    if (!file) return props.onFault(`${UNREADABLE.message} ${UNREADABLE.remedy}`);
    props.onFault(null);
    props.onFill(await pictureAddress(file));
  };
  return (
    <div className="field picture-field">
      <label htmlFor={id}>{picture ? 'Another photo instead' : props.label}</label>
      <input
        id={id}
        type="file"
        accept="image/*"
        disabled={isWorking}
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file) choose(file);
          // So that the same picture can be chosen again.
          event.target.value = '';
        }}
      />
      <p className="small soft">It is made smaller here, and place and camera are taken out.</p>
      {picture && <img src={picture} alt="As it will be kept" />}
    </div>
  );
}
