/* A picture from the camera or from what is kept. */
export function Take({
  label,
  camera,
  accept,
  got,
}: {
  label: string;
  camera?: boolean;
  accept?: string; /* something else than a picture */
  got: (f: File) => void;
}) {
  return (
    <label class={camera ? 'btn main file' : 'btn file'}>
      {label}
      <input
        type="file"
        accept={accept ?? 'image/*,.heic,.heif'}
        {...(camera ? { capture: 'environment' as const } : {})}
        onChange={(e) => {
          const f = e.currentTarget.files?.[0];
          if (f) got(f);
          e.currentTarget.value = '';
        }}
      />
    </label>
  );
}
