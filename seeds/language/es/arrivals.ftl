# Lo que el servidor responde a un teléfono sobre lo que llegó tarde o no se pudo tomar.

sentence-late-kept = { $why } Se guardó como resultado de la unidad, y el administrador ve que llegó tarde.
sentence-late-closed = El cambio de inquilino se cerró antes de que esto llegara.
sentence-late-cancelled = El cambio de inquilino se canceló antes de que esto llegara.
sentence-late-visit = La visita se canceló antes de que esto llegara.
sentence-late-others = La unidad pasó a otras personas antes de que esto llegara.
sentence-late-replaced = { $place } ya no estaba en servicio cuando esto llegó ({ $gone }).
sentence-late-others-kept = La unidad pasó a otras personas antes de que esto llegara. Se guardó, y el administrador lo ve.
sentence-late-no-deficiency = No queda deficiencia para la que fuera esta reparación. El administrador ve lo que se anotó.
sentence-late-unreadable = El servidor no entiende esto ({ $problem }). Se guardó como llegó, y el administrador lo ve.
sentence-taken-answer = El identificador de esta respuesta ya está usado. Responda otra vez.
sentence-taken-photo = El identificador de esta foto ya está usado. Tómela otra vez.
sentence-taken-other = El identificador de esto ya está usado por otra cosa, así que no se tomó. Hágalo otra vez.
sentence-photo-size = La foto llegó sin su tamaño o su suma. Tómela otra vez.
sentence-photo-many = Esta respuesta ya tiene { $photos } fotos. Deje fuera las que muestran lo mismo.
sentence-photo-large = La foto tiene { $mega } MiB; se toman como mucho 10 MiB. Tómela otra vez con menos píxeles.
sentence-photo-none = Esto no es JPEG, PNG ni WebP, diga lo que diga su nombre. Tome una foto con la cámara.
